import type { Plan } from '../../shared-types/plan';
import { blindedSince } from '../document/queries/blinding';
import { planAsTreated, treatmentsOfPlan } from '../derive';
import { keyPages, orderPages, rackPage, shelfPage, trayPages, trueSizePages } from './charts';
import { landmarksOf, type ChartJob } from './charts';
import { htmlDocument, type Page } from './document';
import { pageFrameOf, type Frame } from './frame';
import { calibrationPage } from './labels/calibration';
import { plainLabels } from './labels/geometry';
import { labelPages } from './labels/labelPages';
import type { PrintOptions } from './options';
import type { Paper } from './paper';
import { EXACT_PRINTER } from './printer';
import { sealedKeyPages } from './sealedKey';
import { hasSetup, setupPages } from './setupPages';
import { sheetPages } from './sheets/sheets';
import { logByTray } from './sheets/sheetLog';
import { shownPots, shownTreatments, trialPots } from './shown';

export type PrintableName =
  | 'tray-charts'
  | 'shelf-charts'
  | 'rack-chart'
  | 'true-size'
  | 'setup-list'
  | 'order-of-work'
  | 'labels'
  | 'calibration'
  | 'recording-sheets'
  | 'sealed-key';

export interface Printable {
  name: PrintableName;
  title: string;
  pages: number;
  html: string;
}

/** What can be printed, in the order in which it is needed. */
export const printableNames: readonly { name: PrintableName; title: string }[] = [
  { name: 'setup-list', title: 'Hanging and filling list' },
  { name: 'tray-charts', title: 'Planting charts, tray by tray' },
  { name: 'shelf-charts', title: 'Planting charts, shelf by shelf' },
  { name: 'rack-chart', title: 'Planting chart, whole rack' },
  { name: 'true-size', title: 'Planting charts at true size' },
  { name: 'order-of-work', title: 'Order of work' },
  { name: 'labels', title: 'Pot labels' },
  { name: 'calibration', title: 'Label calibration' },
  { name: 'recording-sheets', title: 'Recording sheets' },
  { name: 'sealed-key', title: 'Sealed key' },
];

export function defaultOptions(paper: Paper): PrintOptions {
  return {
    paper,
    blinded: false,
    behind: false,
    previous: false,
    log: false,
    measurementIds: null,
    trayIds: null,
    labels: {
      geometry: plainLabels(paper),
      startCell: 1,
      show: 'treatment',
      symbol: 'qr',
    },
    printer: EXACT_PRINTER,
  };
}

function pagesOf(plan: Plan, frame: Frame, name: PrintableName, options: PrintOptions): Page[] {
  const { paper, trayIds } = options;
  const shown = shownTreatments(plan, options.blinded);
  // Pots as the levels make them; on a blinded chart their sizes would tell.
  const { rack } = options.blinded ? plan : planAsTreated(plan);
  const job: ChartJob = {
    frame,
    shown,
    behind: options.behind,
    keyApart: false,
    // Sheets at true size are laid under the pots: nobody writes on them.
    signed: name !== 'true-size',
    // What was done to a tray could tell its treatment.
    lampKinds: rack.lampKinds,
    landmarks: landmarksOf(rack),
    logs: name === 'tray-charts' && options.log && !options.blinded ? logByTray(plan) : new Map(),
  };
  const pots = shownPotsOrPlain(plan, shown);
  const isWanted = ({ id }: { id: string }) => trayIds?.includes(id) ?? true;
  const shelves = rack.shelves.filter((shelf) => trayIds === null || shelf.trays.some(isWanted));
  const trays = shelves.flatMap((shelf) =>
    shelf.trays.filter((tray) => tray.grid && isWanted(tray)).map((tray) => ({ shelf, tray })),
  );
  const withKey = (pages: Page[]) =>
    pages.length === 0 ? [] : [...pages, ...keyPages(job, { paper, wide: false })];
  switch (name) {
    case 'tray-charts':
      return withKey(trays.flatMap(({ shelf, tray }) => trayPages(job, paper, shelf, tray, pots)));
    case 'shelf-charts':
      return withKey(shelves.flatMap((shelf) => shelfPage(job, paper, shelf, pots)));
    case 'rack-chart':
      return withKey(rackPage(job, paper, rack.shelves, pots));
    case 'true-size':
      return trueSizePages(job, paper, trays, pots);
    case 'setup-list':
      return setupPages(plan, frame, options);
    case 'order-of-work':
      return withKey(orderPages(job, paper, rack, trialPots(plan, options), pots));
    case 'labels':
      return labelPages(plan, frame, options);
    case 'calibration':
      return calibrationPage(frame, options);
    case 'recording-sheets':
      return sheetPages(plan, frame, options);
    case 'sealed-key':
      return options.blinded ? sealedKeyPages(plan, frame, paper) : [];
  }
}

/** Without a layout (a uniformity trial) every pot that is measured is shown without treatment. */
function shownPotsOrPlain(
  plan: Plan,
  shown: ReturnType<typeof shownTreatments>,
): ReturnType<typeof shownPots> {
  if (plan.layout) return shownPots(plan, shown);
  const pots = trialPots(plan, { trayIds: null });
  return new Map(pots.map((pot) => [pot.id, { treatment: null, plant: null, block: null }]));
}

/**
 * One printable as an HTML document of fixed pages; null: the plan has nothing of the kind. `pages`
 * counts all of them, also where the document holds only the first `mostPages`. Throws where the
 * sheet of labels is impossible.
 */
export function printed(
  plan: Plan,
  name: PrintableName,
  options: PrintOptions,
  mostPages = Infinity,
): Printable | null {
  const title = printableNames.find((known) => known.name === name)?.title ?? name;
  // Where the trial is blinded, so are its pages, whatever was chosen.
  const blinded = options.blinded || blindedSince(plan) !== null;
  const offered = printables(plan, options).some((known) => known.name === name);
  const frame = pageFrameOf(plan);
  const pages = offered ? pagesOf(plan, frame, name, { ...options, blinded }) : [];
  if (pages.length === 0) return null;
  const html = htmlDocument(title, frame, pages, { most: mostPages, printer: options.printer });
  return { name, title, pages: pages.length, html };
}

/** What says where pots stand, and no more: made before anything is drawn. */
export const UNDRAWN_NAMES: readonly PrintableName[] = ['labels', 'calibration'];

/** Whether there is a layout to print, or nothing to draw: a run that measures how even the rack is. */
export const isDrawn = ({ layout, trial }: Plan): boolean =>
  layout !== null || trial?.factors.length === 0;

/** What this plan and these options give, without making the pages. Nothing that opens a blinded trial. */
export function printables(
  plan: Plan,
  options: Pick<PrintOptions, 'blinded'>,
): { name: PrintableName; title: string }[] {
  const locked = blindedSince(plan) !== null;
  const treated = plan.layout !== null && treatmentsOfPlan(plan).length > 0;
  const measured = (plan.trial?.measurements.length ?? 0) > 0;
  const drawn = isDrawn(plan);
  return printableNames.filter(({ name }) => {
    if (!drawn && !UNDRAWN_NAMES.includes(name)) return false;
    if (name === 'setup-list') return !locked && hasSetup(plan);
    if (name === 'sealed-key') return !locked && options.blinded && treated;
    return name === 'recording-sheets' ? measured : true;
  });
}
