import type { DeliveredMeasure } from '../../../shared-types/delivered';
import { FOREIGN_SIGN, plainSigns, signIn } from './measureSigns';

/** What a column of a logger's table holds. */
export type LogUse =
  /** `time`: the time of day, which the log of days does not keep. */
  | { use: 'nothing' | 'day' | 'time' | 'unit' }
  /** A line a figure: which measure, its number, the unit it is written in. */
  | { use: 'measure' | 'value' | 'sign' }
  /** `sign`: its unit, null: not said. `name`: what else the head says, as the name of a rack's unit. */
  | { use: 'figure'; measure: DeliveredMeasure; sign: string | null; name: string };

/** What the words of a head, or of a cell that names a measure, tell. */
export interface HeadWords {
  measure: DeliveredMeasure | null;
  sign: string | null;
  /** A unit that is none of the measure's, such as lux. */
  foreign: string | null;
  /** The words that are left, which may name a unit of the rack. */
  name: string;
  /** The lowest or highest of something, or its spread. */
  extreme: boolean;
}

/** Words written one after another. */
const list = (words: string): string[] => words.split(' ');

// English and German. Hours come before light, for "light hours" are hours.
const MEASURE_WORDS: readonly [DeliveredMeasure, readonly string[]][] = [
  ['ec', list('ec conductivity cond leitfähigkeit leitwert lf')],
  ['ph', list('ph phwert')],
  ['temperature', list('temperature temp temperatur wassertemperatur lufttemperatur wassertemp')],
  ['hours', list('hours hour photoperiod minutes')],
  ['hours', list('stunden lampenstunden lichtstunden beleuchtungsdauer lichtdauer')],
  ['ppfd', list('ppfd par light licht lichtstärke')],
];

const EXTREME = new Set([
  ...list('min max minimum maximum lowest highest sd std stdev range'),
  ...list('tiefst höchst tiefstwert höchstwert'),
]);

const NOISE = new Set([
  ...list('water solution nutrient air light lights lamp lamps level intensity density'),
  ...list('mean average avg total daily day time hour hours value reading measured'),
  ...list('of in the on at is meter probe sensor unit'),
  ...list('wasser lösung nährlösung mittel mittelwert wert tag luft sonde den der im von ø'),
]);

/** Words of a head or a name, letters and digits apart: `EC_Tank1` is `ec tank 1`. */
export const wordsOf = (text: string): string[] =>
  plainSigns(text).match(/\p{L}+|\p{N}+(?:[.,]\p{N}+)?/gu) ?? [];

/** A head without regard to case and marks. */
export const plainHead = (head: string): string => wordsOf(head).join(' ');

/** The words of a name that tell one unit from another. */
export const nameWords = (words: readonly string[]): string =>
  words.filter((word) => !NOISE.has(word)).join(' ');

/** Reads a head such as `Tank 1 EC [µS/cm]`, or a cell that names a measure. */
export function headWords(text: string): HeadWords {
  const plain = plainSigns(text).replace(/\b(?:non|temperature)[- ]compensated\b/g, ' ');
  const named = measureNamed(wordsOf(plain));
  const found = signIn(plain, named);
  const foreign = found ? null : (FOREIGN_SIGN.exec(plain)?.[0] ?? null);
  const rest = plain.replace(found?.found ?? foreign ?? '', ' ');
  const measure = named ?? found?.measure ?? null;
  const own = new Set(MEASURE_WORDS.flatMap(([one, named]) => (one === measure ? named : [])));
  const words = wordsOf(rest).filter((word) => !own.has(word));
  return {
    measure,
    foreign,
    sign: found?.sign ?? (measure === 'ph' ? '' : null),
    name: nameWords(words.filter((word) => !EXTREME.has(word))),
    extreme: words.some((word) => EXTREME.has(word)),
  };
}

function measureNamed(words: readonly string[]): DeliveredMeasure | null {
  if (words.length === 1 && words[0] === 't') return 'temperature';
  return MEASURE_WORDS.find(([, named]) => words.some((word) => named.includes(word)))?.[0] ?? null;
}

type Part = Exclude<LogUse['use'], 'figure' | 'nothing'>;

/** Heads of the other columns, by a word that is in them; English and German. */
const PART_WORDS: readonly [Part, readonly string[]][] = [
  ['day', list('date datum timestamp zeitstempel datetime logged recorded zeitpunkt')],
  ['day', list('day tag taken')],
  ['time', list('time uhrzeit zeit clock')],
  ['value', list('value wert reading messwert figure')],
  ['measure', list('measure measurement parameter quantity variable messgröße größe')],
  ['unit', list('unit units zone reservoir tank bay shelf tray place position location where')],
  ['unit', list('sensor logger device probe channel name source')],
  ['unit', list('ort becken behälter regal etage schale einheit fühler kanal')],
];

/** What a column is by its head alone when it holds no figures of a measure; null: nothing known. */
export function partOfHead(head: string): Part | null {
  const words = wordsOf(head);
  return PART_WORDS.find(([, named]) => words.some((word) => named.includes(word)))?.[0] ?? null;
}

const BESIDE = new Set([
  ...list(
    'no nr record index id serial row zeile battery batterie batt voltage volt v signal rssi',
  ),
  ...list('rh humidity feuchte luftfeuchte co vpd dew taupunkt'),
  ...list('note notes remark bemerkung comment by initials'),
]);

/** Whether a column is usual in loggers' tables and no part of this log: it is not asked about. */
export const isBeside = (head: string): boolean =>
  /^\s*#/.test(head) || wordsOf(head).some((word) => BESIDE.has(word));
