import { isPaper, papers } from '../../../shared-types/paper';
import { join } from 'node:path';
import type { Plan } from '../../../shared-types/plan';
import {
  defaultOptions,
  labelPresets,
  plainLabels,
  printableNames,
  printables,
  printed,
  symbolProposed,
  UNDRAWN_NAMES,
  type LabelGeometry,
  type Paper,
  type Printable,
  type PrintableName,
} from '../../../renderer/print';
import { trayCode } from '../../../renderer/engine/geometry';
import { list } from '../../../renderer/words';
import { BatchError } from '../batchError';
import { readPlanFile } from '../inputs';
import { refuseFolder, writeFolder } from '../output';
import { inRunAsked, runInResult, runOption } from '../runAsked';
import { htmlToPdf } from '../pdf';
import type { Verb } from '../verb';

export const printVerb: Verb = {
  name: 'print',
  gives:
    'Charts, labels and recording sheets of a drawn plan: HTML files in DIR, and PDF where a browser is installed. ' +
    '--true-size: charts that pots can be set on, too; --trays, --measurements: of these alone; --labels: a sheet of labels by its name; --shift-right, --shift-down: of its printer, mm.',
  takes: ['PLAN'],
  options: {
    out: { value: 'DIR', needed: true },
    paper: { value: 'A4|Letter', needed: false },
    what: { value: 'NAME,NAME', needed: false },
    blinded: 'flag',
    labels: { value: 'PRESET', needed: false },
    trays: { value: 'TRAY,TRAY', needed: false },
    'true-size': 'flag',
    behind: 'flag',
    log: 'flag',
    'no-previous': 'flag',
    measurements: { value: 'NAME,NAME', needed: false },
    show: { value: 'treatment|pot', needed: false },
    symbol: { value: 'qr|data-matrix|none', needed: false },
    'first-cell': { value: 'N', needed: false },
    'shift-right': { value: 'MM', needed: false },
    'shift-down': { value: 'MM', needed: false },
    ...runOption,
  },
  async run(args) {
    const path = args.positional('PLAN');
    const folder = args.needed('out');
    const paper = paperNamed(args.optional('paper') ?? 'A4');
    const plan = inRunAsked(await readPlanFile(path), args.optional('run'));
    // Tiles at true size are many and made on request only.
    const asked = namesAsked(args.optional('what')) ?? withoutTiles;
    if (!asked.every((name) => UNDRAWN_NAMES.includes(name))) refuseUndrawn(path, plan);
    await refuseFolder({ option: 'out', path: folder });
    const blinded = args.flag('blinded');
    const defaults = defaultOptions(paper);
    const options = {
      ...{
        ...defaults,
        previous: !args.flag('no-previous'),
        blinded,
        behind: args.flag('behind'),
        log: args.flag('log'),
        measurementIds: measurementsAsked(plan, args.optional('measurements')),
        trayIds: traysAsked(plan, args.optional('trays')),
      },
      labels: {
        geometry: labelsAsked(paper, args.optional('labels')),
        show: oneOf('show', args.optional('show') ?? 'treatment', ['treatment', 'pot'] as const),
        symbol: oneOf('symbol', args.optional('symbol') ?? 'qr', symbolKinds),
        startCell: numberAsked('first-cell', args.optional('first-cell') ?? '1'),
        shiftXMm: shiftAsked('shift-right', args.optional('shift-right')),
        shiftYMm: shiftAsked('shift-down', args.optional('shift-down')),
      },
    };
    const wanted: PrintableName[] = args.flag('true-size') ? [...asked, 'true-size'] : asked;
    // Everything is made before the first file is written.
    const documents = printables(plan, options).flatMap(({ name }) => {
      const document = wanted.includes(name) ? printed(plan, name, options) : null;
      return document ? [document] : [];
    });
    if (documents.length === 0) {
      const found = asked === withoutTiles ? 'no tray with pots' : `nothing of ${list(wanted)}`;
      throw new BatchError(`${path}, rack`, `found ${found}`, 'at least one is expected');
    }
    const { contents, whyNoPdf } = await contentsOf(documents);
    await writeFolder({ option: 'out', path: folder }, contents, args);
    const files = documents.map(({ name, title, pages }) => ({
      what: name,
      title,
      pages,
      html: join(folder, `${name}.html`),
      pdf: contents.has(`${name}.pdf`) ? join(folder, `${name}.pdf`) : null,
    }));
    const remarks = whyNoPdf === null ? [] : [`no PDF: ${whyNoPdf}; the HTML prints at 100 %`];
    if (wanted.includes('labels') && symbolProposed(plan, options)) {
      remarks.push('labels: the QR code finds no room; Data Matrix does: --symbol data-matrix');
    }
    return {
      plan: plan.title,
      ...runInResult(plan),
      paper,
      seed: plan.layout?.seed ?? null,
      files,
      remarks,
    };
  },
};

const withoutTiles = printableNames.map(({ name }) => name).filter((n) => n !== 'true-size');

/** The ids of the trays after --trays, by their codes; null: all. */
function traysAsked(plan: Plan, text: string | undefined): string[] | null {
  if (text === undefined) return null;
  const idOf = new Map(
    plan.rack.shelves.flatMap(({ number, trays }) =>
      trays.flatMap(({ id, letter, grid }) =>
        grid ? [[trayCode(number, letter), id] as const] : [],
      ),
    ),
  );
  return text.split(',').map((word) => {
    const id = idOf.get(word.trim().toUpperCase());
    if (id !== undefined) return id;
    const codes = [...idOf.keys()].join(', ');
    throw new BatchError('--trays', `found ${word}`, `expected one or more of ${codes}`);
  });
}

const symbolKinds = ['qr', 'data-matrix', 'none'] as const;

function oneOf<T extends string>(option: string, text: string, known: readonly T[]): T {
  const found = known.find((value) => value === text);
  if (found !== undefined) return found;
  throw new BatchError(`--${option}`, `found ${text}`, `expected one of ${known.join(', ')}`);
}

function numberAsked(option: string, text: string): number {
  const value = Number(text);
  if (text.trim() !== '' && Number.isFinite(value)) return value;
  throw new BatchError(`--${option}`, `found ${text}`, 'expected a number');
}

/** How far the printer shifts, mm; as on the screen, at most 10. */
function shiftAsked(option: string, text: string | undefined): number {
  const shift = numberAsked(option, text ?? '0');
  if (Math.abs(shift) <= 10) return shift;
  throw new BatchError(`--${option}`, `found ${shift}`, 'expected -10 to 10 mm');
}

/** The ids of the measurements after --measurements, by name or timepoint; null: all. */
function measurementsAsked(plan: Plan, text: string | undefined): string[] | null {
  if (text === undefined) return null;
  const measurements = plan.trial?.measurements ?? [];
  return text.split(',').flatMap((part) => {
    const word = part.trim().toLowerCase();
    const found = measurements.filter(
      ({ name, timepoint }) => name.toLowerCase() === word || timepoint === word,
    );
    if (found.length > 0) return found.map(({ id }) => id);
    const names = measurements.map(({ name }) => name).join(', ');
    throw new BatchError(
      '--measurements',
      `found ${part}`,
      `expected start, interim, harvest or one or more of ${names}`,
    );
  });
}

/** The sheet of labels after --labels; labels on plain paper where it is not said. */
function labelsAsked(paper: Paper, text: string | undefined): LabelGeometry {
  if (text === undefined) return plainLabels(paper);
  const known = labelPresets.filter((preset) => preset.paper === paper);
  const found = known.find(({ id }) => id === text || id === `${paper}-${text}`);
  if (found) return found.geometry;
  const names = known.map(({ id }) => id).join(', ');
  throw new BatchError('--labels', `found ${text}`, `expected one of ${names}`);
}

/** The names after --what; null: not asked. */
function namesAsked(text: string | undefined): PrintableName[] | null {
  if (text === undefined) return null;
  return text.split(',').map((word) => {
    const known = printableNames.find(({ name }) => name === word.trim());
    if (known) return known.name;
    const names = printableNames.map(({ name }) => name).join(', ');
    throw new BatchError('--what', `found ${word}`, `expected one or more of ${names}`);
  });
}

/** Every file by name. After the first PDF that fails no further one is tried. */
async function contentsOf(documents: readonly Printable[]): Promise<{
  contents: ReadonlyMap<string, string | Uint8Array>;
  whyNoPdf: string | null;
}> {
  const contents = new Map<string, string | Uint8Array>();
  let whyNoPdf: string | null = null;
  for (const { name, html } of documents) {
    contents.set(`${name}.html`, html);
    if (whyNoPdf !== null) continue;
    const pdf = await htmlToPdf(html);
    if (pdf.ok) contents.set(`${name}.pdf`, pdf.bytes);
    else whyNoPdf = pdf.why;
  }
  return { contents, whyNoPdf };
}

function paperNamed(name: string): Paper {
  if (isPaper(name)) return name;
  throw new BatchError('--paper', `found ${name}`, `expected ${papers.join(' or ')}`);
}

function refuseUndrawn(path: string, plan: Plan): void {
  if (plan.layout !== null) {
    if (plan.layout.assignments.length > 0) return;
    throw new BatchError(`${path}, layout`, 'found no pots in it', 'a drawn pot is expected');
  }
  // Without factors there is nothing to draw: a run that measures how even the rack is.
  if (plan.trial && plan.trial.factors.length === 0) return;
  throw new BatchError(
    `${path}, layout`,
    plan.trial ? 'found a trial that is not drawn' : 'found no trial',
    'a drawn layout is expected; draw it first',
  );
}
