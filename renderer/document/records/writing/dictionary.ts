import type { Plan } from '../../../../shared-types/plan';
import { measurementTraits, type Measurement } from '../../../../shared-types/trial/measurement';
import { writeDelimited } from '../../../tables';
import type { TableStyle } from '../../../tables';
import { measurementHead } from '../../queries/names';
import { measurementsInOrder } from '../../queries/records';
import { wideColumnNames } from './csv';
import { hasDays, hasTrail, longColumnNames } from './longTable';
import { potColumnsOf, type DictionaryEntry } from './potColumns';

const MARK: DictionaryEntry = [
  'State of a plant that is not measured or not counted; empty: alive',
  'word',
  '',
  'dead | missing | excluded',
];

const SECOND_MARK: DictionaryEntry = [
  'State of the plant as a second person entered it; empty: not entered, or alive',
  'word',
  '',
  'dead | missing | excluded',
];

const TAKEN_ON: DictionaryEntry = [
  'Day on which the value was taken; empty: not recorded or not stated',
  'date, ISO 8601',
  '',
  '',
];

const TRAIL: DictionaryEntry[] = [
  ['When the value was entered or cleared; empty: not kept', 'date and time, ISO 8601', '', ''],
  ['Initials of who entered it; empty: not given', 'word', '', ''],
  ['Values that it replaced, the latest first; empty: none', 'text', 'see unit', ''],
];

/** What each column of an exported table holds: meaning, kind, unit and the values it can take. */
export function recordsDictionaryCsv(
  plan: Plan,
  shape: 'wide' | 'long',
  style: TableStyle = {},
  runs: readonly Plan[] = [plan],
): string {
  const columns = shape === 'wide' ? wideColumnNames(plan, runs) : longColumnNames(plan, runs);
  const measurements = measurementsInOrder(plan);
  const rest =
    shape === 'wide'
      ? [...measurements.map((m) => measurementEntry(m, runs.length === 1)), MARK, SECOND_MARK]
      : longEntries(measurements, plan.records.tare ?? {}, runs.some(hasDays), runs.some(hasTrail));
  const entries = [...potColumnsOf(plan).map(({ entry }) => entry), ...rest];
  const rows = columns.map((name, i) => [name, ...(entries[i] ?? MARK)]);
  return writeDelimited([['name', 'meaning', 'kind', 'unit', 'values'], ...rows], style);
}

/** `dated`: its day is the same for all lines. */
function measurementEntry(m: Measurement, dated: boolean): DictionaryEntry {
  const when = m.date === null || !dated ? '' : `, ${m.date}`;
  return [
    `${measurementHead(m)}${when}; empty: not recorded`,
    measurementTraits[m.kind].whole ? m.kind : `${m.kind}, ${m.decimals} decimals`,
    m.unit,
    m.lowest === null && m.highest === null
      ? ''
      : `likely from ${m.lowest ?? 'any'} to ${m.highest ?? 'any'}`,
  ];
}

function longEntries(
  measurements: readonly Measurement[],
  tare: Readonly<Record<string, number>>,
  withDays: boolean,
  withTrail: boolean,
): DictionaryEntry[] {
  const each = (pick: (m: Measurement) => string) =>
    [...new Set(measurements.map(pick).filter((text) => text !== ''))].join(' | ');
  const dish = Object.keys(tare).length > 0 ? ', without the tare' : '';
  return [
    ['What was measured', 'word', '', each((m) => m.name)],
    ['When in the trial', 'word', '', each((m) => m.timepoint)],
    ['Day of the measurement; empty: not stated', 'date, ISO 8601', '', ''],
    ...(withDays ? [TAKEN_ON] : []),
    [`Value${dish}; empty: not recorded`, 'number', 'see unit', ''],
    ['Unit of the value', 'word', '', each((m) => m.unit)],
    ['The same value entered by a second person; empty: not entered', 'number', 'see unit', ''],
    [
      'Whether two people say the same of value and plant; empty: only one has entered it',
      'word',
      '',
      'agree | differ',
    ],
    ...(withTrail ? TRAIL : []),
    MARK,
    ['Day since when the mark holds', 'date, ISO 8601', '', ''],
    ['Reason for the mark', 'text', '', ''],
    SECOND_MARK,
    ['Day since when the mark of the second person holds', 'date, ISO 8601', '', ''],
    ['Reason of the second person for the mark', 'text', '', ''],
    ['Note on the pot', 'text', '', ''],
    ['Photos and other files about the pot, by path', 'text', '', ''],
  ];
}
