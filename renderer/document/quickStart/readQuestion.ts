import { quickUnitsOf, type QuickFactor } from '../../../shared-types/window/quickStart';
import type { Application } from '../../../shared-types/trial/trial';

/** What a sentence asks: its factors, and the parts of it that name none. */
export interface ReadQuestion {
  factors: QuickFactor[];
  unread: string[];
}

const NUMBERS: Readonly<Record<string, number>> = {
  two: 2,
  both: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
  twelve: 12,
};

/** More levels than anybody grows side by side. */
const MOST_LEVELS = 40;

/** Ends of one part of the sentence and the beginning of the next. */
const PARTS = /\s*(?:[,;.?!+&×]|\band\b|\bplus\b|\bby\b|\bwith\b|\s[x*]\s)\s*/i;

/** Lead-ins that say nothing of what is compared. */
const LEAD_IN =
  /^(?:i |we |to |want |compare |comparing |test |testing |grow |on |in |of |the |each )+/i;

/**
 * Reads `two lights, three media and two kinds of plant`: each number with a thing is a factor with so
 * many levels, applied through what the thing suggests.
 */
export function readQuestion(sentence: string): ReadQuestion {
  const factors: QuickFactor[] = [];
  const unread: string[] = [];
  for (const part of sentence.split(PARTS)) {
    const plain = part.trim().replace(LEAD_IN, '');
    if (plain === '') continue;
    const factor = factorIn(plain);
    if (factor && !factors.some(({ name }) => name === factor.name)) factors.push(factor);
    else unread.push(part.trim());
  }
  return { factors, unread };
}

function factorIn(part: string): QuickFactor | null {
  const [, counted = '', thing = ''] = /^(\S+)\s+(.+)$/.exec(part) ?? [];
  const count = NUMBERS[counted.toLowerCase()] ?? (/^\d+$/.test(counted) ? Number(counted) : 0);
  if (count < 2 || count > MOST_LEVELS) return null;
  const name = nameOfThing(thing);
  const levels = Array.from({ length: count }, (_, i) => `${name} ${i + 1}`);
  const through = throughOf(thing);
  return { name, levels, through, unit: quickUnitsOf[through][0] ?? 'pot' };
}

/** Words that a thing is applied through, the first that fits. */
const THROUGH: readonly (readonly [RegExp, Application])[] = [
  [/light|lamp|led\b|spectr|colou?r|photoperiod|day length|daylength|ppfd|dimm/i, 'light'],
  [/medi(?:um|a)|soil|substrate|compost|peat|coir|bark|mix/i, 'medium'],
  [/feed|water|irrigat|\bec\b|nutrient|fertili[sz]|solution|flood|dose/i, 'water'],
  [/kind|cultivar|species|crop|variet|plant|seed|lot|clone|line|herb/i, 'plant'],
];

/** What a thing of this name is most likely applied through. */
export function throughOf(thing: string): Application {
  return THROUGH.find(([words]) => words.test(thing))?.[1] ?? 'hand';
}

const IRREGULAR: Readonly<Record<string, string>> = {
  media: 'medium',
  species: 'species',
  mixes: 'mix',
  boxes: 'box',
  spectra: 'spectrum',
  leaves: 'leaf',
};

/** `kinds of plant` → `kind`, `levels of feed` → `feed`, `pot sizes` → `pot size`. */
function nameOfThing(thing: string): string {
  const [head = thing, of = ''] = thing.trim().split(/\s+of\s+/i);
  const vague = /^(?:levels?|strengths?|amounts?|sorts?|types?)$/i.test(head);
  return single(vague && of !== '' ? of : head);
}

function single(thing: string): string {
  const words = thing.trim().split(/\s+/);
  const last = words.at(-1) ?? '';
  const known = IRREGULAR[last.toLowerCase()];
  const one =
    known ??
    (/ies$/i.test(last)
      ? last.replace(/ies$/i, 'y')
      : /(?:ss|us|is)$/i.test(last)
        ? last
        : last.replace(/s$/i, ''));
  return [...words.slice(0, -1), one].join(' ');
}
