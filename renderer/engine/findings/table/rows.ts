import type { Assignment } from '../../../../shared-types/layout';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import { potsOfRack, type Pot } from '../../geometry';
import { questionOf } from '../asked';
import type { FindingsInput, Question } from '../question';
import { daysLate } from '../refused/saturation';
import { lineNamesOf, stripsOf, unitNamesOf } from './tableUnits';

/** Why a planted pot is not in the analysis; `set-aside`: to see what the answer owes to it. */
export type WhyLeftOut =
  | 'dead'
  | 'missing'
  | 'excluded'
  | 'no-record'
  | 'not-positive'
  | 'no-start'
  | 'no-depth'
  | 'set-aside';

/** What the findings need to know of a pot, or of a row of a table that came from elsewhere. */
export type PlaceOfPot = Pick<Pot, 'id' | 'code' | 'trayId' | 'shelfId'> & {
  /** Which pot of the rack it is in which run, where several are taken together. */
  of?: { potId: string; run: string };
};

/** The runs that have values of what is asked; the one in hand, where none has or it stands alone. */
export function runsAnswering(
  input: FindingsInput,
  { measurement }: Pick<Question, 'measurement'>,
): readonly FindingsInput[] {
  const having = (input.all ?? [input]).filter(
    ({ records }) => Object.keys(records.values[measurement.id] ?? {}).length > 0,
  );
  return having.length > 0 ? having : [input];
}

/** One run's rows, with the names of its units. */
export function rowsOfRun(run: FindingsInput, asked: Question, several: boolean) {
  const question = several
    ? (questionOf(run.trial, asked.measurement.id, asked.index) ?? asked)
    : asked;
  const starts = question.start ? (run.records.values[question.start.id] ?? {}) : {};
  const of = rowsOf(run);
  const part = {
    run,
    /** Whether it is one of several taken together. */
    several,
    namesOf: unitNamesOf(run),
    strips: stripsOf(run),
    grid: lineNamesOf(run),
    blocks: new Set(
      of.map(({ pot, assignment }) => assignment?.block ?? run.blockByPot.get(pot.id)),
    ).size,
    ofRun: <T extends string | null>(name: T) =>
      several && name !== null ? `${name}, ${(run.run ?? '').toLowerCase()}` : name,
  };
  const rows = of.map(({ pot, assignment }) => ({
    part,
    pot,
    assignment,
    named: several ? named(pot, run) : pot,
    start: starts[pot.id],
    depth: run.wetDepthByPot?.get(pot.id),
    found: responseOf(run, question, pot),
  }));
  return { ...part, rows };
}

export type RowOfRun = ReturnType<typeof rowsOfRun>['rows'][number];

/** A pot of one of several runs, which share their pots' ids. */
function named({ id, code, trayId, shelfId }: Pot, { run = '' }: FindingsInput): PlaceOfPot {
  return {
    id: potInRun(id, run),
    code: `${code}, ${run.toLowerCase()}`,
    trayId,
    shelfId,
    of: { potId: id, run },
  };
}

/** The id of a pot where several runs are taken together. */
export const potInRun = (potId: string, run: string): string => `${potId} ${run}`;

/** A row as a pot of the rack; `run`: whose it is, where several are taken together. */
export function potOfRow(row: string): { potId: string; run: string | null } {
  const [potId = row, ...run] = row.split(' ');
  return { potId, run: run.length > 0 ? run.join(' ') : null };
}

/** The pots that enter, with what the draw gave them. */
function rowsOf({ rack, layout }: FindingsInput): { pot: Pot; assignment: Assignment | null }[] {
  const pots = potsOfRack(rack);
  if (!layout) return pots.filter((pot) => !pot.guard).map((pot) => ({ pot, assignment: null }));
  const byId = new Map(pots.map((pot) => [pot.id, pot]));
  return layout.assignments.flatMap((assignment) => {
    const pot = byId.get(assignment.potId);
    return pot ? [{ pot, assignment }] : [];
  });
}

/** The value of a pot, or why it has none that can be used. */
export interface Recorded {
  value: number | null;
  why: WhyLeftOut | null;
}

function responseOf(input: FindingsInput, question: Question, pot: Pot): Recorded {
  const mark = input.records.marks[pot.id];
  if (mark) return { value: null, why: mark.mark };
  const final = input.records.values[question.measurement.id]?.[pot.id];
  if (final === undefined) return { value: null, why: 'no-record' };
  if (question.index === 'final') return { value: final, why: null };
  const begun = question.start;
  const start = begun && input.records.values[begun.id]?.[pot.id];
  if (!begun || start === undefined || start === null) return { value: null, why: 'no-start' };
  if (question.index === 'gain') return { value: final - start, why: null };
  if (final <= 0 || start <= 0 || !question.days) return { value: null, why: 'not-positive' };
  const late = (m: Measurement) => daysLate(input, m, pot.id);
  const days = question.days + late(question.measurement) - late(begun);
  if (days <= 0) return { value: null, why: 'not-positive' };
  return { value: Math.log(final / start) / days, why: null };
}
