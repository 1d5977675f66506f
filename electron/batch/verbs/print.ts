import { mkdtemp, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Plan } from '../../../shared-types/plan';
import {
  defaultOptions,
  printables,
  printed,
  type Paper,
  type Printable,
} from '../../../renderer/print';
import { fileTrouble } from '../../services/file-trouble';
import { BatchError } from '../batch-error';
import { readPlanFile } from '../inputs';
import { htmlToPdf } from '../pdf';
import type { Verb } from '../verb';
import { writeTogether } from '../write-together';

export const printVerb: Verb = {
  name: 'print',
  gives:
    'Charts, labels and recording sheets of a drawn plan: HTML files in DIR, and PDF where a browser is installed.',
  takes: ['PLAN'],
  options: {
    out: { value: 'DIR', needed: true },
    paper: { value: 'A4|Letter', needed: false },
  },
  async run(args) {
    const path = args.positional('PLAN');
    const folder = args.needed('out');
    const paper = paperNamed(args.optional('paper') ?? 'A4');
    const plan = await readPlanFile(path);
    refuseUndrawn(path, plan);
    await refuseFolder(folder);
    const options = { ...defaultOptions(paper), previous: true };
    // Everything is made before the first file is written.
    const documents = printables(plan, options).flatMap(({ name }) => {
      // Tiles at true size are many and made on request only.
      const document = name === 'true-size' ? null : printed(plan, name, options);
      return document ? [document] : [];
    });
    if (documents.length === 0) {
      throw new BatchError(`${path}, rack`, 'found no tray with pots', 'at least one is expected');
    }
    const contents = await contentsOf(documents);
    await writeAll(folder, contents);
    const files = documents.map(({ name, title, pages }) => ({
      what: name,
      title,
      pages,
      html: join(folder, `${name}.html`),
      pdf: contents.has(`${name}.pdf`) ? join(folder, `${name}.pdf`) : null,
    }));
    const remarks = files.some(({ pdf }) => pdf === null)
      ? ['no PDF: no Chromium-family browser is installed; the HTML prints at 100 %']
      : [];
    return { plan: plan.title, paper, seed: plan.layout?.seed ?? null, files, remarks };
  },
};

/** Every file by name; the PDFs are left out where no browser is installed. */
async function contentsOf(
  documents: readonly Printable[],
): Promise<ReadonlyMap<string, string | Uint8Array>> {
  const contents = new Map<string, string | Uint8Array>();
  const aside = await mkdtemp(join(tmpdir(), 'evenrack-print-'));
  try {
    for (const { name, html } of documents) {
      contents.set(`${name}.html`, html);
      const pdf = join(aside, `${name}.pdf`);
      if (await htmlToPdf(html, pdf)) contents.set(`${name}.pdf`, await readFile(pdf));
    }
  } finally {
    await rm(aside, { recursive: true, force: true });
  }
  return contents;
}

function paperNamed(name: string): Paper {
  if (name === 'A4' || name === 'Letter') return name;
  throw new BatchError('--paper', `found ${name}`, 'expected A4 or Letter');
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

/** A folder that cannot be is named before the pages are made, which takes its time. */
async function refuseFolder(folder: string): Promise<void> {
  const there = await stat(folder).catch(() => null);
  if (there === null || there.isDirectory()) return;
  throw new BatchError(`--out ${folder}`, 'is a file', 'a folder is expected');
}

async function writeAll(
  folder: string,
  contents: ReadonlyMap<string, string | Uint8Array>,
): Promise<void> {
  try {
    await writeTogether(folder, contents);
  } catch (error) {
    throw new BatchError(
      `--out ${folder}`,
      `cannot be written, ${fileTrouble(error)}`,
      'a folder that can be written is expected',
    );
  }
}
