import type { Question } from '../question';
import { SCALE_WORDS, type ResponseScale } from '../model/scale';
import { type TrialTable } from '../table/table';
import { COLUMN } from '../table/columns';
import { list, plural, said, fieldNumber } from '../../../words';

/**
 * Why a table cannot be analysed, as a sentence that says what would help; null where it can be
 * tried.
 */
export function whyNotAnalysable(
  data: TrialTable,
  question: Question,
  scale: ResponseScale,
): string | null {
  const { name } = question.measurement;
  const responses = data.table.columns[COLUMN.response] ?? [];
  const values = responses.filter((v) => typeof v === 'number');
  if (values.length === 0) {
    const marked = ['dead', 'missing', 'excluded'];
    const unmarked = data.leftOut.filter(({ why }) => !marked.includes(why));
    if (unmarked.length > 0 && unmarked.every(({ why }) => why === 'no-record')) {
      return `No value of ${name} has been recorded.`;
    }
    return `No pot has a value of ${name} that can be used: ${leftOutWords(data)}.`;
  }
  if (values.length < 3) {
    return `Only ${plural(values.length, 'pot')} has a value of ${name} that can be used, and the variation among pots cannot be told from so few.`;
  }
  if (Math.max(...values) - Math.min(...values) === 0) {
    return `Every value of ${name} is ${fieldNumber(values[0] ?? NaN)}, so nothing varies that could be analysed.`;
  }
  if (scale === null) return null;
  const bad = responses.flatMap((value, i) => {
    if (typeof value !== 'number' || fits(scale, value)) return [];
    return [`${data.pots[i]?.code ?? `row ${i + 1}`} (${value})`];
  });
  if (bad.length > 0) {
    const more = bad.length > 4 ? ` and ${bad.length - 4} more` : '';
    return `${name} is to be analysed as ${SCALE_WORDS[scale]}, which need ${NEEDS[scale]}; found ${bad.slice(0, 4).join(', ')}${more}. Correct the values, or analyse it as measured.`;
  }
  return null;
}

/** Why the means of counts cannot be analysed; null where they can be tried. */
export function whyMeansNotAnalysable(
  { table }: TrialTable,
  { measurement }: Question,
): string | null {
  const means = (table.columns[COLUMN.response] ?? []).filter((v) => typeof v === 'number');
  if (Math.max(...means) - Math.min(...means) > 1e-12) return null;
  return `Every mean of ${measurement.name} is ${said(means[0] ?? 0)}, so nothing varies that could be analysed.`;
}

const NEEDS = {
  log: 'values above 0',
  sqrt: 'values not below 0',
  poisson: 'whole numbers from 0',
  'quasi-poisson': 'whole numbers from 0',
  'negative-binomial': 'whole numbers from 0',
} as const;

function fits(scale: NonNullable<ResponseScale>, value: number): boolean {
  if (scale === 'log') return value > 0;
  return value >= 0 && (scale === 'sqrt' || Number.isInteger(value));
}

const WHY_WORDS: Record<TrialTable['leftOut'][number]['why'], string> = {
  dead: 'dead',
  missing: 'missing',
  excluded: 'excluded by hand',
  'no-record': 'without a record',
  'not-positive': 'with a weight that is not positive',
  'no-start': 'without a value at the start',
  'no-depth': 'without a known depth of water',
  'set-aside': 'set aside here',
};

/** `3 dead and 1 without a record`. */
export function leftOutWords({ leftOut }: Pick<TrialTable, 'leftOut'>): string {
  const parts = Object.entries(WHY_WORDS).flatMap(([why, word]) => {
    const n = leftOut.filter((entry) => entry.why === why).length;
    return n > 0 ? [`${n} ${word}`] : [];
  });
  return list(parts);
}
