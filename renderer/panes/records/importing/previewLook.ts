import type { Plan } from '../../../../shared-types/plan';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import type { PotPaint, RackLook } from '../../../canvas';
import { DRAWN_MARK } from '../../../canvas/potMarks';
import { sayValue, type CellReport, type TablePreview } from '../../../document/records';
import { measuredPotsOf } from '../../../derive/records/valueQuestions';
import { fieldNumber } from '../../../words';
import { shownValue } from '../grid/rowView';

/** What becomes of a pot where a table is taken over. */
export const importFates = [
  'new',
  'replaced',
  'same',
  'asked',
  'marked',
  'trouble',
  'absent',
] as const;
export type ImportFate = (typeof importFates)[number];

export const FATE_WORDS: Record<ImportFate, string> = {
  new: 'new',
  replaced: 'replacing another value',
  same: 'recorded already',
  asked: 'outside the likely range',
  marked: 'dead, missing or excluded',
  trouble: 'left out',
  absent: 'not in the table',
};

/** Pattern tells them apart without colour. */
export const FATE_PAINT: Record<ImportFate, PotPaint> = {
  new: { fill: '#3f6f9c', ink: '#ffffff' },
  replaced: { fill: '#e69f00', ink: '#000000', pattern: 'lines-right' },
  same: { fill: '#b7cbe0', ink: '#17211f' },
  asked: { fill: '#f0e442', ink: '#000000', pattern: 'cross' },
  marked: { fill: '#d8d8d2', ink: '#17211f' },
  trouble: { fill: '#f3c9b0', ink: '#000000', pattern: 'rings' },
  absent: { fill: '#f7f5ee', ink: '#17211f' },
};

/** Measurements that a table brings values of, in the order of the plan. */
export function previewedMeasurements(
  plan: Pick<Plan, 'trial'>,
  { cells }: Pick<TablePreview, 'cells'>,
): Measurement[] {
  const held = new Set(cells.flatMap((cell) => measurementOf(cell) ?? []));
  return (plan.trial?.measurements ?? []).filter(({ id }) => held.has(id));
}

const measurementOf = ({ outcome }: CellReport): string | null =>
  outcome.kind === 'value' || outcome.kind === 'out-of-range' ? outcome.measurementId : null;

/** The rack with what a table would put into its pots, before anything is changed. */
export function previewLook(
  plan: Plan,
  { cells }: Pick<TablePreview, 'cells'>,
  measurement: Measurement | null,
): { look: RackLook; counts: Record<ImportFate, number> } {
  const potPaint = new Map<string, PotPaint>();
  const counts = Object.fromEntries(importFates.map((fate) => [fate, 0])) as Record<
    ImportFate,
    number
  >;
  const byPot = new Map<string, CellReport[]>();
  for (const cell of cells) {
    const ofOther = measurementOf(cell) !== null && measurementOf(cell) !== measurement?.id;
    if (cell.potId === null || ofOther) continue;
    const list = byPot.get(cell.potId);
    if (list) list.push(cell);
    else byPot.set(cell.potId, [cell]);
  }
  for (const { id, code } of measuredPotsOf(plan.rack, plan.layout)) {
    const { fate, paint, said } = fateOf(byPot.get(id) ?? [], measurement);
    counts[fate] += 1;
    potPaint.set(id, { ...FATE_PAINT[fate], ...paint, words: `${code}: ${said}` });
  }
  return { look: { potPaint, ringed: new Map(), editable: false }, counts };
}

interface Fate {
  fate: ImportFate;
  paint: Pick<PotPaint, 'text' | 'mark'>;
  said: string;
}

/** What weighs most is shown: a value, then a mark, then trouble. */
function fateOf(cells: readonly CellReport[], measurement: Measurement | null): Fate {
  for (const { outcome } of cells) {
    if (outcome.kind !== 'value' && outcome.kind !== 'out-of-range') continue;
    const { value, replaces } = outcome;
    const text = measurement ? shownValue(value, measurement) : fieldNumber(value);
    const said = measurement ? sayValue(value, measurement) : text;
    if (outcome.kind === 'out-of-range') {
      return { fate: 'asked', paint: { text }, said: `${said}, ${FATE_WORDS.asked}` };
    }
    if (replaces === null) return { fate: 'new', paint: { text }, said };
    if (replaces === value) return { fate: 'same', paint: { text }, said: `${said}, as recorded` };
    const was = measurement ? sayValue(replaces, measurement) : fieldNumber(replaces);
    return { fate: 'replaced', paint: { text }, said: `${said} replaces ${was}` };
  }
  for (const { outcome } of cells) {
    if (outcome.kind !== 'mark') continue;
    return { fate: 'marked', paint: { mark: DRAWN_MARK[outcome.mark] }, said: outcome.mark };
  }
  const bad = cells.find(({ outcome }) => outcome.kind !== 'blank' && outcome.kind !== 'note');
  if (bad) return { fate: 'trouble', paint: {}, said: `“${bad.text.trim()}” is left out` };
  return { fate: 'absent', paint: {}, said: 'no value in the table' };
}
