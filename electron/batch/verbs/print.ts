import { isPaper, papers } from '../../../shared-types/paper';
import { join } from 'node:path';
import type { Plan } from '../../../shared-types/plan';
import {
  lostStripMm,
  printableNames,
  printables,
  printed,
  symbolProposed,
  UNDRAWN_NAMES,
  type Paper,
  type Printable,
  type PrintableName,
} from '../../../renderer/print';
import { list, rounded } from '../../../renderer/words';
import { BatchError } from '../batchError';
import { readPlanFile } from '../inputs';
import { refuseFolder, writeFolder } from '../output';
import { inRunAsked, runInResult, runOption } from '../runAsked';
import { htmlToPdf } from '../pdf';
import { printChoices, printOptionsAsked } from '../printAsked';
import type { Verb } from '../verb';

export const printVerb: Verb = {
  name: 'print',
  gives:
    'Charts, labels and recording sheets of a drawn plan: HTML files in DIR, and PDF where a browser is installed. ' +
    '--true-size: charts that pots can be set on, too; --trays, --measurements: of these alone; --labels: a sheet of labels by its name, or its figures ({"columns":3,"rows":8,"widthMm":70,"heightMm":36,"leftMm":0,"topMm":4.5}); ' +
    '--scale-across, --scale-down: how long the printer draws what should be 100; --shift-right, --shift-down: how far to move its labels, mm.',
  takes: ['PLAN'],
  options: {
    out: { value: 'DIR', needed: true },
    what: { value: 'NAME,NAME', needed: false },
    'true-size': 'flag',
    ...printChoices,
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
    const options = printOptionsAsked(plan, paper, args);
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
    const lost = lostStripMm(paper, options.printer);
    if (lost > 0) {
      remarks.push(
        `a printer that scales like this leaves ${rounded(lost, 1)} mm along an edge blank: what lies nearer to it is lost`,
      );
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
