import { acceptedIn } from '../../document/queries/acceptedIn';
import type { NoticeKind } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { potsToMeasure, measurementsInOrder } from '../../document/queries/records';
import {
  beforeOf,
  slipsInColumn,
  slipsOfMeasurement,
  treatmentNames,
  type Slip,
} from '../../document/records';
import type { SlipSource } from '../../document/records';
import type { Pot } from '../../engine/geometry';
import { memo } from '../memo';

const slipKinds: Record<Slip['kind'], NoticeKind> = {
  'out-of-range': 'value-out-of-range',
  'far-from-neighbours': 'value-suspicious',
  'off-by-factor': 'value-suspicious',
  'finger-slip': 'value-suspicious',
  'not-whole': 'value-suspicious',
  shrank: 'value-suspicious',
  'double-entry-differs': 'double-entry-differs',
};

/** The measured pots in the order of the rack, remembered while rack and layout stay. */
export const measuredPotsOf = memo((rack: Plan['rack'], layout: Plan['layout']): readonly Pot[] =>
  potsToMeasure({ rack, layout }),
);

export const NOTHING = Object.freeze({});

/** The treatments of the pots, remembered while the layout stays. */
const treatmentsIn = memo(treatmentNames);

// One entry a measurement, and as many again for undo: a value typed into one column leaves what
// was found in the others as it was.
const sourceOf = memo(
  (
    measurement: SlipSource['measurement'],
    pots: readonly Pot[],
    values: Readonly<Record<string, number>>,
    second: Readonly<Record<string, number>>,
    marks: Plan['records']['marks'],
    before: SlipSource['measurement'] | null,
    valuesBefore: Readonly<Record<string, number>>,
    layout: Plan['layout'],
  ): SlipSource => ({
    measurement,
    pots,
    values,
    second,
    marks,
    before: before && { measurement: before, values: valuesBefore },
    treatmentOf: treatmentsIn(layout),
  }),
  40,
);
// A value typed at the start leaves what the harvest shows by itself as it was.
const columnOf = memo(
  (
    measurement: SlipSource['measurement'],
    pots: readonly Pot[],
    values: SlipSource['values'],
    marks: SlipSource['marks'],
    treatmentOf: SlipSource['treatmentOf'],
  ) => slipsInColumn({ measurement, pots, values, marks, treatmentOf }),
  40,
);
const slipsOfOne = memo((source: SlipSource) => {
  const { measurement, pots, values, marks, treatmentOf } = source;
  return slipsOfMeasurement(source, columnOf(measurement, pots, values, marks, treatmentOf));
}, 40);

/** What the slips of each measurement are found in; the same object while nothing of it changes. */
export function slipSources(
  { trial, records, layout }: Pick<Plan, 'trial' | 'records' | 'layout'>,
  pots: readonly Pot[],
): SlipSource[] {
  const measurements = measurementsInOrder({ trial });
  return measurements.map((measurement) => {
    const { id } = measurement;
    const before = beforeOf(measurements, records.values, measurement);
    return sourceOf(
      measurement,
      pots,
      records.values[id] ?? NOTHING,
      records.second[id] ?? NOTHING,
      records.marks,
      before,
      (before && records.values[before.id]) ?? NOTHING,
      layout,
    );
  });
}

/** A value that is asked about: all that is odd about it in one notice of each kind. */
export interface ValueQuestion {
  kind: NoticeKind;
  potId: string;
  measurementId: string;
  about: string[];
  text: string;
}

const questionsOf = memo(
  (
    trial: Plan['trial'],
    records: Plan['records'],
    layout: Plan['layout'],
    pots: readonly Pot[],
  ): ValueQuestion[] => {
    const byKey = new Map<string, ValueQuestion>();
    for (const source of slipSources({ trial, records, layout }, pots)) {
      for (const { kind: slip, potId, measurementId, text } of slipsOfOne(source)) {
        const kind = slipKinds[slip];
        const key = `${kind} ${potId} ${measurementId}`;
        const known = byKey.get(key);
        const about = [`pot:${potId}`, `measurement:${measurementId}`];
        byKey.set(
          key,
          known
            ? { ...known, text: `${known.text} ${text}` }
            : { kind, potId, measurementId, about, text },
        );
      }
    }
    return [...byKey.values()];
  },
);

/** Every value of the plan that looks like a slip, accepted or not. */
export function valueQuestions(plan: Plan): ValueQuestion[] {
  const { trial, records, layout, rack } = plan;
  return questionsOf(trial, records, layout, measuredPotsOf(rack, layout));
}

const questionKey = ({ kind, about }: { kind: string; about: readonly string[] }): string =>
  `${kind} ${[...about].sort().join(' ')}`;

const openByCell = memo(
  (questions: readonly ValueQuestion[], accepted: ReturnType<typeof acceptedIn>) => {
    const settled = new Set(accepted.map(questionKey));
    const open = new Map<string, ValueQuestion[]>();
    for (const question of questions) {
      if (settled.size > 0 && settled.has(questionKey(question))) continue;
      const cell = cellKey(question.measurementId, question.potId);
      const list = open.get(cell);
      if (list) list.push(question);
      else open.set(cell, [question]);
    }
    return open;
  },
);

/** The questions that nobody has answered yet, by the cell of the recording grid. */
export function openQuestions(plan: Plan): ReadonlyMap<string, readonly ValueQuestion[]> {
  return openByCell(valueQuestions(plan), acceptedIn(plan));
}

/** Names one cell of the recording grid. */
export function cellKey(measurementId: string, potId: string): string {
  return `${measurementId} ${potId}`;
}
