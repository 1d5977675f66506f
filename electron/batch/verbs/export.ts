import { join } from 'node:path';
import { deliveredMeasures, deliveredTraits } from '../../../shared-types/delivered';
import type { Plan } from '../../../shared-types/plan';
import { writePlan } from '../../../renderer/document/open';
import { deliveredUnitName, nameOf, refTo } from '../../../renderer/document/queries';
import {
  hasTrail,
  recordsDictionaryCsv,
  recordsHistoryCsv,
  recordsLongCsv,
} from '../../../renderer/document/records';
import { hasSeveralRuns, runName, runsOf, seenFrom } from '../../../renderer/document/runs';
import { writeDelimited, type CellOut } from '../../../renderer/tables';
import { readPlanFile } from '../inputs';
import { refuseFolder, writeFolder } from '../output';
import type { Verb } from '../verb';

export const exportVerb: Verb = {
  name: 'export',
  gives:
    'All that a plan holds in open formats, in DIR: the plan (JSON); of all runs the records, what their columns mean and their history; meter readings, incidents with their photos, what was delivered (CSV, JPEG).',
  takes: ['PLAN'],
  options: { out: { value: 'DIR', needed: true } },
  async run(args) {
    const plan = await readPlanFile(args.positional('PLAN'));
    const folder = args.needed('out');
    await refuseFolder({ option: 'out', path: folder });
    const contents = contentsOf(plan);
    await writeFolder({ option: 'out', path: folder }, contents, args);
    return { files: [...contents.keys()].map((name) => join(folder, name)) };
  },
};

/** The files by name; a table that would have no line is left out. */
function contentsOf(plan: Plan): Map<string, string | Uint8Array> {
  const runs = runsOf(plan).map(({ id }) => seenFrom(plan, id));
  const contents = new Map<string, string | Uint8Array>([['plan.json', writePlan(plan)]]);
  const grown = runs.filter(({ layout }) => layout !== null);
  if (grown.length > 0) {
    contents.set('records.csv', recordsLongCsv(plan, {}, grown));
    contents.set('columns.csv', recordsDictionaryCsv(plan, 'long', {}, grown));
  }
  if (grown.some(hasTrail)) contents.set('history.csv', recordsHistoryCsv(plan, {}, grown));
  putTable(contents, 'readings.csv', READING_HEAD, readingLines(plan));
  putTable(contents, 'incidents.csv', INCIDENT_HEAD, runs.flatMap(incidentLines));
  putTable(contents, 'delivered.csv', DELIVERED_HEAD, runs.flatMap(deliveredLines));
  for (const run of runs) {
    for (const { id, photo } of run.records.incidents) {
      if (photo) contents.set(photoOf(run, id), Buffer.from(photo.slice(PHOTO_HEAD), 'base64'));
    }
  }
  return contents;
}

function putTable(
  contents: Map<string, string | Uint8Array>,
  name: string,
  head: readonly string[],
  lines: readonly CellOut[][],
): void {
  if (lines.length > 0) contents.set(name, writeDelimited([head, ...lines]));
}

const READING_HEAD = [
  ...['shelf', 'x (mm)', 'y (mm)', 'z (mm)', 'value', 'unit', 'lux per PPFD'],
  ...['spectrum', 'date', 'taken in run', 'note'],
];

const readingLines = (plan: Plan): CellOut[][] =>
  plan.light.readings.map((reading) => [
    nameOf(plan, refTo('shelf', reading.shelfId)),
    ...[reading.xMm, reading.yMm, reading.zMm, reading.value],
    reading.unit === 'ppfd' ? 'µmol m⁻² s⁻¹' : 'lux',
    reading.luxPerPpfd,
    reading.spectrum ?? '',
    reading.date ?? '',
    reading.takenIn === undefined ? '' : runName(seenFrom(plan, reading.takenIn)),
    reading.note,
  ]);

const INCIDENT_HEAD = ['run', 'date', 'about', 'text', 'photo'];

const incidentLines = (plan: Plan): CellOut[][] =>
  plan.records.incidents.map(({ id, date, about, text, photo }) => [
    runName(plan),
    date,
    about.map((ref) => nameOf(plan, ref)).join(', ') || 'the whole rack',
    text,
    photo ? photoOf(plan, id) : '',
  ]);

/** `data:image/jpeg;base64,` */
const PHOTO_HEAD = 23;

const photoOf = (plan: Plan, id: string): string =>
  `incident-${hasSeveralRuns(plan) ? `${plan.runId}-` : ''}${id}.jpg`;

const DELIVERED_HEAD = [
  ...['run', 'unit', 'date'],
  ...deliveredMeasures.map((measure) => {
    const { name, unit } = deliveredTraits[measure];
    return unit === '' ? name : `${name} (${unit})`;
  }),
];

function deliveredLines(plan: Plan): CellOut[][] {
  return Object.entries(plan.records.delivered ?? {}).flatMap(([id, days]) =>
    Object.entries(days)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([day, figures]) => [
        runName(plan),
        deliveredUnitName(plan, id),
        day,
        ...deliveredMeasures.map((measure) => figures[measure] ?? null),
      ]),
  );
}
