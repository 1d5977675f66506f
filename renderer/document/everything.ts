import { deliveredMeasures, deliveredTraits } from '../../shared-types/delivered';
import type { Plan } from '../../shared-types/plan';
import { writeDelimited, type CellOut } from '../tables';
import { writePlan } from './open';
import { deliveredUnitName, nameOf, refTo } from './queries';
import { hasTrail, recordsDictionaryCsv, recordsHistoryCsv, recordsLongCsv } from './records';
import { hasSeveralRuns, runName, runsOf, seenFrom } from './runs';

/**
 * All that a plan holds in open formats, as files by name: JSON, CSV and JPEG. A table that would have
 * no line is left out.
 */
export function everythingOf(plan: Plan): Map<string, string | Uint8Array<ArrayBuffer>> {
  const runs = runsOf(plan).map(({ id }) => seenFrom(plan, id));
  const contents = new Map<string, string | Uint8Array<ArrayBuffer>>([
    ['plan.json', writePlan(plan)],
  ]);
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
      if (photo) contents.set(photoOf(run, id), bytesOfBase64(photo.slice(PHOTO_HEAD)));
    }
  }
  return contents;
}

function putTable(
  contents: Map<string, string | Uint8Array<ArrayBuffer>>,
  name: string,
  head: readonly string[],
  lines: readonly CellOut[][],
): void {
  if (lines.length > 0) contents.set(name, writeDelimited([head, ...lines]));
}

const READING_HEAD = [
  'shelf',
  'x (mm)',
  'y (mm)',
  'z (mm)',
  'value',
  'unit',
  'lux per PPFD',
  'spectrum',
  'date',
  'taken in run',
  'note',
];

const readingLines = (plan: Plan): CellOut[][] =>
  plan.light.readings.map((reading) => [
    nameOf(plan, refTo('shelf', reading.shelfId)),
    reading.xMm,
    reading.yMm,
    reading.zMm,
    reading.value,
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
  'run',
  'unit',
  'date',
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

const BASE64 = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** RFC 4648, section 4; signs at the end that make no whole byte are left. */
function bytesOfBase64(text: string): Uint8Array<ArrayBuffer> {
  const signs = text.replace(/=+$/, '');
  const bytes = new Uint8Array(Math.floor((signs.length * 3) / 4));
  let [held, bits, at] = [0, 0, 0];
  for (const sign of signs) {
    held = ((held << 6) | BASE64.indexOf(sign)) & 0xfff;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    bytes[at++] = (held >> bits) & 0xff;
  }
  return bytes;
}
