import type { Notice, Severity } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Incident, Mark } from '../../../shared-types/records';
import type { PotPaint, RackLook } from '../../canvas/look';
import { DRAWN_MARK } from '../../canvas/potMarks';
import { ringedThings } from '../../derive';
import type { Pot } from '../../engine/geometry';
import { memo } from '../../derive/memo';
import { measuredPotsOf } from '../../derive/records/valueQuestions';
import { figuresOf } from '../../document/records';
import { incidentRefs, incidentsOfPot, measurementsInOrder, refTo } from '../../document/queries';
import { sayDay } from '../../words';

/**
 * How much of each pot is recorded, and which plants are dead or missing. One and the same while
 * nothing that is painted has changed: thousands of pots are not drawn again for a notice.
 */
export function recordsLook(plan: Plan, notices: readonly Notice[]): RackLook {
  const { rack, layout, trial, records } = plan;
  const { values, marks, incidents } = records;
  const logged = incidentWords(rack, incidents, measuredPotsOf(rack, layout));
  const { pots } = logged;
  const columns = measurementsInOrder({ trial }).map(({ id }) =>
    figuresOf(pots, values[id] ?? NOTHING),
  );
  return lookOf(
    paintOf(steadyCounts(countsOf(columns, pots.length)), columns.length, marks, logged),
    thingWords(rack, incidents),
    withIncidents(rack, incidents, ringedThings(notices, 'records')),
  );
}

const lookOf = memo(
  (
    potPaint: ReadonlyMap<string, PotPaint>,
    words: ReadonlyMap<string, string>,
    ringed: ReadonlyMap<string, Severity>,
  ): RackLook => ({ potPaint, words, ringed, editable: false }),
);

const paintOf = memo(
  (
    done: Uint16Array,
    wanted: number,
    marks: Plan['records']['marks'],
    { pots, words }: LoggedPots,
  ) => {
    const potPaint = new Map<string, PotPaint>();
    for (const [i, { id }] of pots.entries()) {
      const mark = marks[id];
      const log = words.get(id);
      if (mark) {
        potPaint.set(id, {
          fill: '#d8d8d2',
          ink: '#17211f',
          mark: DRAWN_MARK[mark.mark],
          words: [markWords(mark), log].filter(Boolean).join(' · '),
        });
        continue;
      }
      const paint = PROGRESS[progressOf(done[i] ?? 0, wanted)];
      potPaint.set(id, log === undefined ? paint : { ...paint, words: log });
    }
    return potPaint;
  },
);

const NOTHING = Object.freeze({});

/** How many of the columns have a value, pot by pot. */
function countsOf(columns: readonly Float64Array[], many: number): Uint16Array {
  const counts = new Uint16Array(many);
  for (const column of columns) {
    column.forEach((value, i) => {
      if (!Number.isNaN(value)) counts[i] = (counts[i] ?? 0) + 1;
    });
  }
  return counts;
}

/** The same list while what it holds stays, so that a corrected value leaves the paint as it is. */
function steady(): (counts: Uint16Array) => Uint16Array {
  let latest: Uint16Array = new Uint16Array(0);
  return (counts) => {
    const same = counts.length === latest.length && counts.every((n, i) => n === latest[i]);
    if (!same) latest = counts;
    return latest;
  };
}

const steadyCounts = steady();

function markWords({ mark, date, reason }: Mark): string {
  return [
    mark,
    date === null ? '' : ` since ${sayDay(date)}`,
    reason === '' ? '' : `: ${reason}`,
  ].join('');
}

interface LoggedPots {
  pots: readonly Pot[];
  words: ReadonlyMap<string, string>;
}

/** What the log says of each pot, its tray, its shelf, the lamps over it and the whole rack. */
const incidentWords = memo(
  (rack: Plan['rack'], incidents: readonly Incident[], pots: readonly Pot[]): LoggedPots => {
    const words = new Map<string, string>();
    if (incidents.length === 0) return { pots, words };
    for (const pot of pots) {
      const log = incidentsOfPot({ rack, records: { incidents } }, pot);
      if (log.length > 0) words.set(pot.id, logWords(log));
    }
    return { pots, words };
  },
);

const logWords = (log: readonly Incident[]) =>
  log.map(({ date, text }) => `${sayDay(date)}: ${text}`).join(' · ');

/** What the log says of each shelf, tray and lamp itself, of what it stands on, and of the rack. */
const thingWords = memo((rack: Plan['rack'], incidents: readonly Incident[]) => {
  const words = new Map<string, string>();
  if (incidents.length === 0) return words;
  const say = (ref: string, ids: readonly string[]) => {
    const log = incidents.filter(
      ({ about }) => about.length === 0 || about.some((id) => ids.includes(id)),
    );
    if (log.length > 0) words.set(ref, logWords(log));
  };
  for (const { id, trays, lamps } of rack.shelves) {
    const over = lamps.map((lamp) => lamp.id);
    say(refTo('shelf', id), [id]);
    for (const tray of trays) say(refTo('tray', tray.id), [tray.id, id, ...over]);
    for (const lamp of over) say(refTo('lamp', lamp), [lamp, id]);
  }
  return words;
});

type Progress = 'none' | 'some' | 'all';

function progressOf(done: number, wanted: number): Progress {
  if (done === 0) return 'none';
  return done < wanted ? 'some' : 'all';
}

export const PROGRESS: Record<Progress, PotPaint> = {
  none: { fill: '#f7f5ee', ink: '#17211f' },
  some: { fill: '#b7cbe0', ink: '#17211f', pattern: 'level' },
  all: { fill: '#3f6f9c', ink: '#ffffff' },
};

/** A thing that an incident is logged for is ringed as a note, unless a worse ring is there. */
const withIncidents = memo(
  (
    rack: Plan['rack'],
    incidents: readonly Incident[],
    ringed: ReadonlyMap<string, Severity>,
  ): ReadonlyMap<string, Severity> => {
    if (incidents.length === 0) return ringed;
    const all = new Map(ringed);
    for (const incident of incidents) {
      for (const ref of incidentRefs({ rack }, incident)) if (!all.has(ref)) all.set(ref, 'note');
    }
    return all;
  },
);
