import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { codeOfPot, measurementLabel } from '../../document/queries/names';
import { measurementsInOrder } from '../../document/queries/records';
import { countOf } from '../../document/changedKeys';
import { figuresOf, type ValueToTake } from '../../document/records';
import { potsOfRack, type Pot } from '../../engine/geometry';
import { deliveredNotices } from './deliveredNotices';
import { entryNotices } from './entryNotices';
import { harvestNotices } from './harvestNotices';
import { markNotices } from './markNotices';
import { memo } from '../memo';
import { sequenceNotices } from './sequenceNotices';
import { unitNotices } from './unitNotices';
import { noticesOfStage } from '../../words';
import { measuredPotsOf, NOTHING, slipSources, valueQuestions } from './valueQuestions';

const notice = noticesOfStage('records');

const unitNoticesOf = (plan: Plan): Notice[] =>
  slipSources(plan, measuredPotsOf(plan.rack, plan.layout)).flatMap((source) =>
    unitNotices(plan.rack, source),
  );

/** What values would have to be asked about units, that the records as they are have not. */
export function unitsAskedBy(plan: Plan, taken: readonly ValueToTake[]): string[] {
  const known = new Set(unitNoticesOf(plan).map(({ text }) => text));
  const values = { ...plan.records.values };
  for (const id of new Set(taken.map(({ measurementId }) => measurementId))) {
    const column = taken.filter(({ measurementId }) => measurementId === id);
    values[id] = {
      ...values[id],
      ...Object.fromEntries(column.map(({ potId, value }) => [potId, value])),
    };
  }
  return unitNoticesOf({ ...plan, records: { ...plan.records, values } }).flatMap(({ text }) =>
    known.has(text) ? [] : [text],
  );
}

/** What looks like a slip, is missing, or hangs on no pot in the records. */
export function recordNotices(plan: Plan): Notice[] {
  if (!plan.trial) return [];
  const pots = measuredPotsOf(plan.rack, plan.layout);
  return [
    ...valueQuestions(plan).map(({ kind, about, text }) => notice(kind, 'warn', about, text, LOOK)),
    ...unitNoticesOf(plan),
    ...slipSources(plan, pots).flatMap(sequenceNotices),
    ...entryNotices(plan, pots),
    ...markNotices(plan, pots),
    ...harvestNotices(plan),
    ...deliveredNotices(plan),
    ...missingNotices(plan, pots),
    ...unknownPotNotices(plan, pots),
  ];
}

const LOOK = 'Look at the sheet or the plant; correct the value, or accept it with a reason.';

// One entry a measurement or list, and as many again for undo, as with the slips.
const unrecorded = memo(
  (
    values: Readonly<Record<string, number>>,
    marks: Plan['records']['marks'],
    pots: readonly Pot[],
  ) => pots.filter((pot) => values[pot.id] === undefined && marks[pot.id] === undefined),
  40,
);

/** A measurement that is begun and not finished; one not begun is simply still to come. */
function missingNotices(plan: Plan, pots: readonly Pot[]): Notice[] {
  return measurementsInOrder(plan).flatMap((m) => {
    const values = plan.records.values[m.id];
    if (values === undefined) return [];
    const missing = unrecorded(values, plan.records.marks, pots);
    if (missing.length === 0 || missing.length === pots.length) return [];
    const named = missing.slice(0, 4).map((pot) => pot.code);
    const more = missing.length > named.length ? ` and ${missing.length - named.length} more` : '';
    return [
      notice(
        'record-missing',
        'note',
        [`measurement:${m.id}`, ...whereMissing(missing)],
        `${measurementLabel(m)} is not recorded for ${missing.length} of ${pots.length} pots: ${named.join(', ')}${more}.`,
        'Record them, or mark the pots as dead or missing.',
      ),
    ];
  });
}

/** The pots themselves while there are few enough to look at one by one, else their trays. */
function whereMissing(missing: readonly Pot[]): string[] {
  if (missing.length <= 60) return missing.map((pot) => `pot:${pot.id}`);
  return [...new Set(missing.map((pot) => `tray:${pot.trayId}`))];
}

const idsOfPots = memo((pots: readonly Pot[]) => new Set(pots.map((pot) => pot.id)));
const idsOfRack = memo((rack: Plan['rack']) => new Set(potsOfRack(rack).map((pot) => pot.id)));

const strangersIn = memo(
  (list: Readonly<Record<string, unknown>>, known: ReadonlySet<string>) =>
    Object.keys(list).filter((id) => !known.has(id)),
  80,
);

/** The same of a list of values. Where each is of a pot that is measured, nothing is looked for. */
function strangersAmong(values: Readonly<Record<string, number>>, pots: readonly Pot[]): string[] {
  const known = figuresOf(pots, values).reduce((n, value) => n + (Number.isNaN(value) ? 0 : 1), 0);
  return known === countOf(values) ? [] : strangersIn(values, idsOfPots(pots));
}

/** Values and marks belong to measured pots; a note may hang on any pot that is on the rack. */
function unknownPotNotices(plan: Plan, pots: readonly Pot[]): Notice[] {
  const { values, second, marks, secondMarks = NOTHING, notes } = plan.records;
  const measured = idsOfPots(pots);
  const unknown = new Set(
    [...Object.values(values), ...Object.values(second)]
      .flatMap((list) => strangersAmong(list, pots))
      .concat([marks, secondMarks].flatMap((list) => strangersIn(list, measured))),
  );
  if (notes) for (const id of strangersIn(notes, idsOfRack(plan.rack))) unknown.add(id);
  if (unknown.size === 0) return [];
  const named = [...unknown].slice(0, 4).map((id) => codeOfPot(plan, id));
  const more = unknown.size > named.length ? ` and ${unknown.size - named.length} more` : '';
  return [
    notice(
      'unknown-pot',
      'warn',
      ['plan'],
      `${unknown.size} recorded ${unknown.size === 1 ? 'pot is' : 'pots are'} not measured in this trial: ${named.join(', ')}${more}.`,
      'They are guard pots, empty holes, or pots taken off the rack since; their values are kept but not analysed.',
    ),
  ];
}
