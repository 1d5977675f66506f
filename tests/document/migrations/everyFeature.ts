import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Plans of the first format that together use everything it knew: every field, and every entry of
 * every closed list. Each is the water or the basil example with something changed, as raw JSON.
 */

/** Raw JSON of a format whose types are gone. */
type Raw = ReturnType<typeof JSON.parse>;

const read = (name: string): Raw =>
  JSON.parse(readFileSync(join(import.meta.dirname, 'version1', `${name}.json`), 'utf8'));

function changed(name: 'basil' | 'water', change: (plan: Raw) => void): Raw {
  const plan = read(name);
  change(plan);
  return plan;
}

const basil = (change: (plan: Raw) => void): Raw =>
  changed('basil', (plan) => {
    plan.nextId = 5000;
    change(plan);
  });

const KINDS = [
  {
    shape: 'panel',
    emission: { kind: 'beam', fullAngleDeg: 120 },
    output: { kind: 'photons', fluxUmolS: 90 },
  },
  {
    shape: 'spot',
    emission: { kind: 'file', fileName: 'spot.ies', text: 'IESNA:LM-63-2002' },
    output: { kind: 'lumens', lumens: 900, lumensPerUmolS: 70, lowest: 62, highest: 80 },
  },
];

function withLampsAndRota(plan: Raw): void {
  plan.display.lengths = 'imperial';
  plan.light.canopyAt = 'planting';
  KINDS.forEach((kind, i) => {
    const size = { lengthMm: 300, widthMm: 200, powerW: 20, massKg: 1 };
    plan.rack.lampKinds.push({ id: `k${4000 + i}`, name: `kind ${i}`, ...size, ...kind });
  });
  const [shelf] = plan.rack.shelves;
  const [one, other] = shelf.trays.map(({ id }: Raw) => id);
  plan.light.readings.push({
    id: 'r4010',
    shelfId: shelf.id,
    xMm: 10,
    yMm: 20,
    zMm: 30,
    value: 9000,
    unit: 'lux',
    luxPerPpfd: 70,
    date: null,
    note: 'by the door',
  });
  plan.light.rota = [
    {
      fromDay: 3,
      toDay: 4,
      places: {
        [one]: { placeOf: other, turned: true },
        [other]: { placeOf: one, turned: false },
      },
    },
  ];
}

function withComparisons(plan: Raw): void {
  plan.light.canopyAt = 'harvest';
  const [factor] = plan.trial.factors;
  const [a, b] = factor.levels;
  b.times = 2;
  factor.control = a.id;
  const weights = [
    { levelId: a.id, weight: 1 },
    { levelId: b.id, weight: -1 },
  ];
  factor.contrasts = [
    { name: 'as planned', weights, fixed: true },
    { name: 'thought of later', weights },
  ];
  plan.trial.wetDepthCovariate = true;
  plan.trial.constraint = {
    acceptanceShare: 0.2,
    balance: ['light', 'position', 'start'],
    likeNeighbours: 2,
  };
}

const SCALES = ['sqrt', 'log', 'poisson', 'quasi-poisson', 'negative-binomial'];

function withMeasurements(plan: Raw): void {
  SCALES.forEach((scale, i) => {
    const kind = ['length', 'score', 'count', 'count', 'count'][i];
    plan.trial.measurements.push({
      id: `m${4100 + i}`,
      name: `thing ${i}`,
      quantity: 'thing',
      kind,
      unit: 'mm',
      decimals: 0,
      moment: 'interim',
      date: '2026-03-20',
      lowest: null,
      highest: null,
      scale,
    });
  });
}

function withRecords(plan: Raw): void {
  const [a, b, c] = plan.layout.assignments.map(({ potId }: Raw) => potId);
  const [measured] = plan.trial.measurements;
  plan.layout.assignments.forEach((assignment: Raw, i: number) => {
    assignment.plant = `P${i}`;
  });
  plan.layout.swaps.push({ date: '2026-03-05', a, b, reason: 'in the way' });
  const [factor] = plan.trial.factors;
  plan.plants = [
    { code: 'P1', startValue: 2.5 },
    { code: 'S1', startValue: 2, levels: { [factor.id]: factor.levels[0].id }, lost: true },
  ];
  const mark = (kind: string) => ({ mark: kind, date: '2026-03-06', reason: 'slug' });
  plan.records.marks = { ...plan.records.marks, [a]: mark('excluded') };
  plan.records.secondMarks = { [a]: mark('dead'), [b]: mark('missing'), [c]: mark('excluded') };
  plan.records.notes = { [a]: { text: 'pale', files: ['pale.jpg'] } };
  plan.records.stoodBefore = { [measured.id]: 3 };
  plan.records.days = { [measured.id]: { [a]: '2026-03-06' } };
  plan.records.tare = { [measured.id]: 1.5 };
  plan.records.delivered = {
    [plan.rack.shelves[0].trays[0].id]: {
      '2026-03-06': { ec: 1.8, ph: 5.9, temperature: 21, hours: 16, ppfd: 240 },
    },
  };
  plan.records.blinded = { since: '2026-03-05' };
  plan.records.trail = {
    acts: [{ at: '2026-03-06T09:05:00+01:00', by: 'KM' }, { at: '2026-03-07T10:00:00Z' }],
    entered: { [measured.id]: { [a]: 1 } },
    enteredSecond: { [measured.id]: { [b]: 0 } },
    replaced: [
      { measurementId: measured.id, potId: a, was: 3, entered: 0, act: 1 },
      { measurementId: measured.id, potId: b, was: 4, act: 1, second: true },
    ],
    marks: [
      { potId: a, was: { mark: 'missing', date: null, reason: '' }, act: 0, second: true },
      { potId: b, was: null, act: 1 },
    ],
    notes: [{ potId: a, was: { text: 'pale', files: [] }, act: 1 }],
  };
  plan.records.incidents.push({
    id: 'i4200',
    date: '2026-03-07',
    text: 'unlocked',
    photo: 'data:image/jpeg;base64,/9j/4AAQ',
    about: [`pot:${a}`],
    kept: true,
  });
  plan.acceptedNotices = [
    { kind: 'no-readings', about: ['shelf:s1'], reason: 'no meter', date: '2026-03-01' },
    { kind: 'low-power', about: [], reason: 'a first look', date: null },
  ];
  const { grid } = plan.rack.shelves[0].trays[0];
  grid.guards = ['1:1'];
}

function withWater(plan: Raw): void {
  const [first, second] = plan.flood.zones;
  first.drain = {
    kind: 'standpipe',
    overflowBoreMm: 30,
    returnBoreMm: 10,
    returnThrough: 'hole',
  };
  second.drain = { kind: 'valve', boreMm: 20 };
  const [one, other] = plan.rack.shelves[0].trays;
  one.grid.empty = ['1:1'];
  plan.flood.slopes = [
    { trayId: one.id, rightMmPerM: 3, backMmPerM: 0, drainAt: 'middle' },
    { trayId: other.id, rightMmPerM: 0, backMmPerM: 2, drainAt: 'highest' },
  ];
}

const trialWith = (patch: Raw) => (plan: Raw) => {
  plan.layout = null;
  plan.records = { values: {}, second: {}, marks: {}, incidents: [] };
  Object.assign(plan.trial, patch);
};

const BLOCKS = [
  { by: 'tray-halves' },
  { by: 'tray-quarters' },
  { by: 'rows', perBlock: 2 },
  { by: 'columns', perBlock: 2 },
  { by: 'light', bands: 4 },
];
const SCHEMES = [
  'complete-blocks',
  'latin-square',
  'row-and-column',
  'incomplete-blocks',
  'strip-plot',
];
const POSITIONS = ['linear', 'rows+columns', 'smooth', 'ar1'];

export function everyFeature(): [name: string, plan: Raw][] {
  return [
    ['lamps, lux and a rota', basil(withLampsAndRota)],
    ['comparisons and a control', basil(withComparisons)],
    ['measurements on all scales', basil(withMeasurements)],
    ['plants, marks, notes and tares', basil(withRecords)],
    ['valves and slopes', changed('water', withWater)],
    ...['gain', 'relative-growth-rate'].map((primaryIndex): [string, Raw] => [
      primaryIndex,
      basil(trialWith({ primaryIndex })),
    ]),
    ...POSITIONS.map((primaryPosition): [string, Raw] => [
      primaryPosition,
      basil(trialWith({ primaryPosition })),
    ]),
    ...BLOCKS.map((blocks): [string, Raw] => [
      `blocks by ${blocks.by}`,
      basil(trialWith({ blocks })),
    ]),
    ...SCHEMES.map((scheme): [string, Raw] => [
      scheme,
      basil((plan) => {
        plan.layout.scheme = scheme;
        plan.trial.scheme = scheme;
      }),
    ]),
    ...['row-strip', 'column-strip'].map((unit): [string, Raw] => [
      unit,
      basil((plan) => {
        trialWith({ scheme: 'strip-plot' })(plan);
        plan.trial.factors[0].unit = unit;
      }),
    ]),
  ];
}
