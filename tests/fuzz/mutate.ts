import type { PRNG } from 'seedrandom';
import { positionModels } from '../../shared-types/trial/position';

/** Figures and signs at which readers have been known to stumble. */
const tokens = [
  '1e308', '-1e308', '1e999', '1e-320', '-0', '0', '-1', 'NaN', 'Infinity', 'null', 'true', '""',
  '[]', '{}', '9007199254740993', '1e15', '0.1', '"__proto__"', '"constructor"', '\u0000', '\uFEFF',
  ',', ';', '\t', '\n', '\r', '"', '=1+1', '+1', '½', 'é', '\uD800', '1,234', '1.2.3', '٣',
]; // oxfmt-ignore

const scales = [0, -1, 1e-12, 1e-3, 0.5, 2, 10, 1e3, 1e6, 1e12, 1e300];

const pick = <T>(random: PRNG, items: readonly T[]): T => {
  const item = items[Math.floor(random() * items.length)];
  if (item === undefined) throw new RangeError('pick: found an empty list');
  return item;
};

/** A text with one to three faults: cut, doubled, swapped, or with a strange token put in. */
export function mutateText(text: string, random: PRNG): string {
  let out = text;
  for (let n = 1 + Math.floor(random() * 3); n > 0; n--) out = once(out, random);
  return out;
}

function once(text: string, random: PRNG): string {
  const at = Math.floor(random() * (text.length + 1));
  const to = Math.min(text.length, at + Math.floor(random() ** 3 * 200));
  const [before, part, after] = [text.slice(0, at), text.slice(at, to), text.slice(to)];
  switch (Math.floor(random() * 6)) {
    case 0:
      return before + after;
    case 1:
      return before + part + part + after;
    case 2:
      return before;
    case 3: {
      const numbers = [...text.matchAll(/-?\d+(\.\d+)?/g)];
      if (numbers.length === 0) return text;
      const { index, 0: number } = pick(random, numbers);
      return text.slice(0, index) + pick(random, tokens) + text.slice(index + number.length);
    }
    case 4: {
      const lines = text.split('\n');
      const [a, b] = [pick(random, [...lines.keys()]), pick(random, [...lines.keys()])];
      [lines[a], lines[b]] = [lines[b] ?? '', lines[a] ?? ''];
      return lines.join('\n');
    }
    default:
      return before + pick(random, tokens) + after;
  }
}

/**
 * JSON of the same form with one to three values changed: scaled, exchanged for one of another
 * kind, left out or doubled. Most of it passes the syntax and meets the rules behind it.
 */
export function mutateJson(text: string, random: PRNG): string {
  const root: unknown = JSON.parse(text);
  for (let n = 1 + Math.floor(random() * 3); n > 0; n--) {
    const places = placesIn(root);
    if (places.length === 0) break;
    const { holder, key } = pick(random, places);
    const value = holder[key];
    const other = pick(random, places);
    switch (Math.floor(random() * 5)) {
      case 0:
        if (Array.isArray(holder)) holder.splice(Number(key), 1);
        else Reflect.deleteProperty(holder, key);
        break;
      case 1:
        if (Array.isArray(holder)) holder.push(structuredClone(value));
        else holder[key] = structuredClone(other.holder[other.key]);
        break;
      case 2:
        holder[key] = pick<unknown>(random, [
          null,
          true,
          '',
          'x',
          [],
          {},
          -1,
          0,
          1.5,
          1e308,
          1e-300,
        ]);
        break;
      default:
        holder[key] = typeof value === 'number' ? value * pick(random, scales) : value;
    }
  }
  return JSON.stringify(root);
}

/** Names that are hard to sort, to measure, to write right to left or to put on a page. */
const strange = [
  '漢字', 'שלום', 'مرحبا', '\u202Eabc', '\u200B', '\u200D', 'e\u0301'.repeat(20), '👩‍👩‍👧‍👦', '𝔘𝔫𝔦', '\uD83D',
  '\uFEFFx', 'ß', 'İ', 'ﬁ', '\u00A0', 'a\tb', '</script>', '&amp;', '-', '=1', "'", '`', '%s', '${x}',
  'x'.repeat(60), '0', '٣', '½', 'Ω'.repeat(40), 'CON', '..', 'A·B', 'A × B', '__proto__', '\u0007',
]; // oxfmt-ignore

/** JSON of a plan whose names, titles, reasons and other free words are strange ones. */
export function renameAll(text: string, random: PRNG): string {
  const free = new Set(['name', 'title', 'notes', 'question', 'reason', 'text', 'plant', 'seed']);
  const root: unknown = JSON.parse(text);
  for (const { holder, key } of placesIn(root)) {
    if (free.has(key) && typeof holder[key] === 'string' && random() < 0.5) {
      holder[key] = pick(random, strange) + (random() < 0.5 ? pick(random, strange) : '');
    }
  }
  return JSON.stringify(root);
}

/**
 * A harvested plan that still opens: values scaled, made equal or left out, and another question
 * asked of them.
 */
export function disturbHarvest(text: string, random: PRNG): string {
  const plan = JSON.parse(text) as {
    trial: Record<string, unknown> & { measurements: Record<string, unknown>[] };
    runs: { records: { values: Record<string, Record<string, number>> } }[];
  };
  const share = random() ** 2;
  const scale = pick(random, scales);
  const constant = random() < 0.1 ? pick(random, [0, -1, 7, 1e300]) : null;
  for (const values of plan.runs.flatMap((run) => Object.values(run.records.values))) {
    for (const [pot, value] of Object.entries(values)) {
      if (constant !== null) values[pot] = constant;
      else if (random() < share * 0.5) values[pot] = value * scale;
      if (random() < share * 0.3) Reflect.deleteProperty(values, pot);
    }
  }
  plan.trial['primaryPosition'] = pick<unknown>(random, positionModels);
  plan.trial['primaryIndex'] = pick<unknown>(random, ['final', 'gain', 'relative-growth-rate']);
  plan.trial['startCovariate'] = random() < 0.5;
  plan.trial['alpha'] = pick<unknown>(random, [0.05, 1e-9, 0.999]);
  const kind = pick<unknown>(random, ['weight', 'weight', 'count', 'score']);
  for (const measurement of plan.trial.measurements) measurement['kind'] = kind;
  return JSON.stringify(plan);
}

interface Place {
  holder: Record<string, unknown>;
  key: string;
}

function placesIn(value: unknown, found: Place[] = []): Place[] {
  if (typeof value !== 'object' || value === null) return found;
  const holder = value as Record<string, unknown>;
  for (const key of Object.keys(holder)) {
    found.push({ holder, key });
    placesIn(holder[key], found);
  }
  return found;
}
