import type { LampKind } from '../../../shared-types/rack';
import type { Page } from '../document';
import { bodyMm, type Frame } from '../frame';
import { html, type Fragment } from '../html';
import type { Sheet } from '../paper';
import type { Shown, ShownTreatment } from '../shown';
import { svgDrawing } from '../svg';
import { SIGNING_MM, signingLine } from '../signing';
import type { Drawing } from './pots';
import { chartKeyOf, keySvg, type ChartKey, type Sign } from './key';
import type { Landmark } from './landmarks';

/** All that the charts of one printing share. */
export interface ChartJob {
  frame: Frame;
  shown: Shown;
  behind: boolean;
  /** The key stands on pages of its own, even where it is short. */
  keyApart: boolean;
  /** Who planted writes his name and the day under it. */
  signed: boolean;
  /** What stands in a line under the chart of a tray, by tray id: its log, oldest entry first. */
  logs: ReadonlyMap<string, readonly string[]>;
  /** The lamps of the rack, and what its charts have to find one's way by. */
  lampKinds: readonly LampKind[];
  landmarks: readonly Landmark[];
}

const BEFORE_KEY_MM = 2;
/** A line under a chart. */
export const LOG_LINE_MM = 4;
/** A key that takes more of a page than this gets pages of its own. */
const KEY_SHARE = 0.3;
/** Signs that a chart may use; room for their key is kept before it is drawn. */
const MOST_SIGNS: readonly Sign[] = ['tick', 'guard', 'outside', 'empty', 'block'];

const mostSigns = ({ landmarks }: ChartJob): Sign[] => [...MOST_SIGNS, ...landmarks];

/** A page of which all but its heading is drawn when it is shown: a rack may have hundreds. */
export const pageOf = (sheet: Sheet, heading: string, draw: () => Page): Page => ({
  sheet,
  heading,
  body: () => draw().body(),
});

interface Room {
  keyApart: boolean;
  width: number;
  height: number;
}

// One and the same on every page of a printing that lies as it does.
const rooms = new WeakMap<ChartJob, Map<string, Room>>();

function roomOf(job: ChartJob, sheet: Sheet): Room {
  const known = rooms.get(job) ?? new Map<string, Room>();
  rooms.set(job, known);
  const name = `${sheet.paper} ${sheet.wide}`;
  const room = known.get(name) ?? { keyApart: needsPages(job, sheet), ...chartRoomOf(job, sheet) };
  known.set(name, room);
  return room;
}

/** Whether the key stands on pages of its own. */
const keyApart = (job: ChartJob, sheet: Sheet): boolean => roomOf(job, sheet).keyApart;

/** Room for the drawing itself on a page, mm. */
export function chartRoom(job: ChartJob, sheet: Sheet): { width: number; height: number } {
  const { width, height } = roomOf(job, sheet);
  return { width, height };
}

function needsPages(job: ChartJob, sheet: Sheet): boolean {
  if (job.keyApart) return true;
  const room = bodyMm(job.frame, sheet);
  const treatments = counted(job.shown);
  const key = chartKeyOf({ ...job.shown, treatments }, mostSigns(job), room.width);
  return key.heightMm > room.height * KEY_SHARE;
}

/** The longest that a name with its count can be. */
function counted(shown: Shown): ShownTreatment[] {
  return shown.treatments.map((treatment) => ({ ...treatment, name: `8888 × ${treatment.name}` }));
}

function chartRoomOf(job: ChartJob, sheet: Sheet): { width: number; height: number } {
  const { width, height } = bodyMm(job.frame, sheet);
  const treatments = needsPages(job, sheet) ? [] : counted(job.shown);
  const key = chartKeyOf({ ...job.shown, treatments }, mostSigns(job), width);
  // Kept on every chart of a printing, so that trays of one size are drawn to one scale.
  const log = job.logs.size > 0 ? LOG_LINE_MM : 0;
  return { width, height: height - key.heightMm - BEFORE_KEY_MM - signingMm(job) - log };
}

const signingMm = (job: ChartJob): number => (job.signed ? SIGNING_MM : 0);

/** A page with a drawing of given size and, under it, the key to its marks. */
export function chartPage(
  job: ChartJob,
  sheet: Sheet,
  chart: { heading: string; width: number; height: number; svg: Fragment },
  drawn: Pick<Drawing, 'signs' | 'counts'>,
): Page {
  const { width } = bodyMm(job.frame, sheet);
  const { counts } = drawn;
  // Only what stands on this page, and how often.
  const treatments = keyApart(job, sheet)
    ? []
    : job.shown.treatments
        .filter((treatment) => counts.has(treatment))
        .map((treatment) => ({
          ...treatment,
          name: `${counts.get(treatment) ?? 0} × ${treatment.name}`.trimEnd(),
        }));
  const key = chartKeyOf({ ...job.shown, treatments }, [...drawn.signs], width);
  return {
    sheet,
    heading: chart.heading,
    body: () => [
      svgDrawing({ ...chart, height: chart.height + signingMm(job) }, 'Planting chart', [
        chart.svg,
        signingMm(job) > 0 && signingLine(0, chart.height),
      ]),
      html`<div style="height:${BEFORE_KEY_MM}mm"></div>`,
      keySvg(key),
    ],
  };
}

/** The key on pages of its own; [] where it stands on the charts. */
export function keyPages(job: ChartJob, sheet: Sheet): Page[] {
  if (!keyApart(job, sheet)) return [];
  const room = bodyMm(job.frame, sheet);
  const key = chartKeyOf(job.shown, [], room.width);
  return pagesOfRows(key, room.height).map((rows, i, all) => ({
    sheet,
    heading: `Key to the planting charts${all.length > 1 ? `, ${i + 1} of ${all.length}` : ''}`,
    body: () => keySvg(key, rows),
  }));
}

function pagesOfRows(key: ChartKey, heightMm: number): ChartKey['rows'][] {
  const pages: ChartKey['rows'][] = [];
  let used = Infinity;
  for (const row of key.rows) {
    if (used + row.heightMm > heightMm) {
      pages.push([]);
      used = 0;
    }
    pages.at(-1)?.push(row);
    used += row.heightMm;
  }
  return pages;
}
