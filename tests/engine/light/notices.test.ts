import { describe, expect, it } from 'vitest';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import type { Layout } from '../../../shared-types/layout';
import type { LightPlan, LightReading } from '../../../shared-types/light';
import { lightStamp } from '../../../renderer/engine/lamps';
import { lightNotices } from '../../../renderer/engine/light/notices';
import { ppfdAtPoints } from '../../../renderer/engine/light/field';
import { kind, lamp, lightPlan, shelf, threeStrips, tray } from './racks';

// The shelf of tests/reference/trade-facts.md, section 1.4: mean 88.2, darkest pot 67.0 (0.76 of it),
// brightest 112.6 µmol m⁻² s⁻¹.

function found(
  change: {
    shelves?: Shelf[];
    kinds?: LampKind[];
    light?: Partial<LightPlan>;
    lengths?: 'metric' | 'imperial';
  } = {},
): Record<string, { severity: string; about: string[]; text: string; remedy: string }> {
  const notices = lightNotices({
    rack: { shelves: change.shelves ?? [threeStrips()], lampKinds: change.kinds ?? [kind()] },
    light: lightPlan({ lowestMinToMean: 0.7, ...change.light }),
    display: { lengths: change.lengths ?? 'metric' },
  });
  return Object.fromEntries(notices.map((notice) => [notice.kind, notice]));
}

describe('light notices', () => {
  it('a sound plan hears only that nothing was measured', () => {
    const notices = found({ light: { targetPpfdUmol: { lowest: 60, highest: 120 } } });
    expect(Object.keys(notices)).toEqual(['no-readings']);
    expect(notices['no-readings']).toMatchObject({ severity: 'note', about: ['shelf:s1'] });
  });

  it('an empty rack, and a shelf without lamps, hear nothing', () => {
    expect(found({ shelves: [], light: { photoperiodHours: 0 } })).toEqual({});
    expect(found({ shelves: [shelf({ trays: [tray()] })] })).toEqual({});
  });

  it('uneven light within a tray, with the figures', () => {
    const { 'light-uneven': uneven } = found({ light: { lowestMinToMean: 0.8 } });
    expect(uneven).toMatchObject({ severity: 'warn', about: ['tray:t1'] });
    expect(uneven?.text).toContain('Tray 1A');
    expect(uneven?.text).toContain('67 µmol m⁻² s⁻¹, 0.76 of the mean 88.2 over 18 pots');
    expect(uneven?.remedy).not.toBe('');
  });

  it('too low and too high against the target; a single pot outside is a note', () => {
    const low = found({ light: { targetPpfdUmol: { lowest: 100, highest: 200 } } });
    expect(low['light-too-low']).toMatchObject({ severity: 'warn', about: ['tray:t1'] });
    expect(low['light-too-low']?.text).toContain('88.2');
    const high = found({ light: { targetPpfdUmol: { lowest: 20, highest: 80 } } });
    expect(high['light-too-high']).toMatchObject({ severity: 'warn' });
    const pots = found({ light: { targetPpfdUmol: { lowest: 70, highest: 110 } } });
    expect(pots['light-too-low']).toMatchObject({ severity: 'note' });
    expect(pots['light-too-low']?.text).toContain('darkest pot only 67');
    expect(pots['light-too-high']?.text).toContain('brightest pot 113');
  });

  it.each([
    [6, 'stop', 'even a lossless lamp'],
    [4.5, 'warn', '1.5 to 3.7'],
  ])('efficacy of %d µmol/J', (efficacy, severity, words) => {
    const kinds = [kind({ output: { kind: 'watts', efficacyUmolJ: efficacy } })];
    const { 'efficacy-implausible': notice } = found({ kinds });
    expect(notice).toMatchObject({ severity, about: ['lampKind:k1'] });
    expect(notice?.text).toContain(words);
    expect(notice?.text).toContain(`${efficacy} µmol per joule`);
  });

  it('efficacy from flux over power, and silence where the power is not known', () => {
    const output = { kind: 'photons', fluxUmolS: 120 } as const;
    expect(found({ kinds: [kind({ output, powerW: 20 })] })).toHaveProperty('efficacy-implausible');
    expect(Object.keys(found({ kinds: [kind({ output, powerW: 0 })] }))).toEqual(['no-readings']);
  });

  it.each([
    [0, 'never burn'],
    [24, 'no night'],
    [21, 'a night of 3 hours'],
  ])('photoperiod of %d h', (hours, words) => {
    const { 'photoperiod-implausible': notice } = found({ light: { photoperiodHours: hours } });
    expect(notice?.severity).toBe('warn');
    expect(notice?.text).toContain(words);
  });

  it.each([8, 16, 18, 20])('photoperiod of %d h is plausible', (hours) => {
    expect(found({ light: { photoperiodHours: hours } })).not.toHaveProperty(
      'photoperiod-implausible',
    );
  });

  it('a lamp that cannot be made sense of stops its shelf', () => {
    const broken = shelf({ lamps: [lamp({ kindId: 'k7' })], trays: [tray()] });
    const { 'light-not-computable': notice } = found({ shelves: [broken] });
    expect(notice).toMatchObject({ severity: 'stop', about: ['shelf:s1'] });
    expect(notice?.text).toContain('kind k7');
  });
});

// Readings at canopy height 0 on the trade sheet's shelf; some changed by a factor.
const metered = (change: Record<number, number> = {}): LightReading[] =>
  [100, 300, 500, 700, 900, 1100].flatMap((xMm, column) =>
    [100, 500].map((yMm, row) => {
      const i = 2 * column + row;
      const [value = NaN] = ppfdAtPoints(threeStrips(), [kind()], [{ xMm, yMm, zMm: 0 }]);
      return {
        id: `r${i + 1}`,
        shelfId: 's1',
        xMm,
        yMm,
        zMm: 0,
        value: value * (change[i] ?? 1),
        unit: 'ppfd',
        luxPerPpfd: null,
        date: null,
        note: '',
      };
    }),
  );

describe('each kind speaks of its flaw and is silent just short of it', () => {
  const light = (patch: Partial<LightPlan>) => ({ light: patch });
  const target = (lowest: number, highest: number) =>
    light({ targetPpfdUmol: { lowest, highest } });
  const watts = (efficacyUmolJ: number) => ({
    kinds: [kind({ output: { kind: 'watts', efficacyUmolJ } })],
  });
  const closed = (canopy: number) => ({
    shelves: [
      {
        ...threeStrips(),
        reflectances: { above: 1, canopy, front: 1, back: 1, left: 1, right: 1 },
      },
    ],
  });
  // Trays that change places may differ by 2 mm, the care that a ruler allows.
  const moved = (widthMm: number) => {
    const two = ['t1', 't2'].map((id, i) =>
      tray({ id, letter: 'AB'.charAt(i), xMm: 510 * i, widthMm: i === 0 ? 500 : widthMm }),
    );
    const as = (placeOf: string) => ({ placeOf, turned: false });
    return {
      shelves: [{ ...threeStrips(), trays: two }],
      ...light({ rota: [{ fromDay: 8, toDay: 14, places: { t1: as('t2'), t2: as('t1') } }] }),
    };
  };
  const beside = (xMm: number) => {
    const [value = NaN] = ppfdAtPoints(threeStrips(), [kind()], [{ xMm, yMm: 100, zMm: 0 }]);
    return light({ readings: metered().map((r, i) => (i === 0 ? { ...r, xMm, value } : r)) });
  };

  // Read before the first lamp was lowered by so much.
  const lowered = (byMm: number) => {
    const of = lightStamp(threeStrips(), [kind()]);
    const lamps = threeStrips().lamps.map((l, i) => (i === 0 ? { ...l, zMm: l.zMm - byMm } : l));
    return {
      shelves: [{ ...threeStrips(), lamps }],
      ...light({ readings: metered().map((r) => ({ ...r, of })) }),
    };
  };

  it.each([
    // Darkest pot 67.0, 0.7596 of the mean 88.2; brightest 112.6 (trade sheet 1.4).
    ['light-uneven', 'warn', light({ lowestMinToMean: 0.76 }), light({ lowestMinToMean: 0.759 })],
    ['light-too-low', 'note', target(67.1, 200), target(66.9, 200)],
    ['light-too-low', 'warn', target(88.3, 200), target(66.9, 200)],
    ['light-too-high', 'note', target(50, 112.5), target(50, 112.7)],
    ['light-too-high', 'warn', target(50, 88.1), target(50, 112.7)],
    ['efficacy-implausible', 'stop', watts(5.86), watts(4)],
    ['efficacy-implausible', 'warn', watts(4.01), watts(4)],
    ['photoperiod-implausible', 'warn', light({ photoperiodHours: 20.1 }), {}],
    [
      'photoperiod-implausible',
      'warn',
      light({ photoperiodHours: 0 }),
      light({ photoperiodHours: 0.5 }),
    ],
    [
      'reading-outlier',
      'warn',
      light({ readings: metered({ 4: 1.25 }) }),
      light({ readings: metered({ 4: 1.15 }) }),
    ],
    ['reading-outlier', 'warn', beside(-1), beside(0)],
    ['rota-does-not-fit', 'warn', moved(503), moved(502)],
    ['no-readings', 'note', {}, light({ readings: metered().slice(0, 1) })],
    ['readings-outdated', 'note', lowered(1), lowered(0)],
    ['light-not-computable', 'stop', closed(1), closed(0.95)],
  ] as const)('%s, %s', (name, severity, flawed, narrowly) => {
    expect(found(flawed)[name]).toMatchObject({ severity });
    expect(found(narrowly)).not.toHaveProperty(name);
  });

  it('readings none of which can be used: the shelf stays estimated, and is told so', () => {
    const readings = metered().map((one) => ({ ...one, zMm: 400 }));
    const { 'reading-outlier': notice, 'no-readings': none } = found({ light: { readings } });
    expect(notice?.text).toContain('Shelf 1 has 12 readings, none of which can be used');
    expect(notice?.about).toHaveLength(13);
    expect(none?.text).toContain('estimated');
  });

  it('lengths are spoken of in the plan’s unit', () => {
    const shelves = [{ ...threeStrips(), canopy: { plantingMm: 127, harvestMm: 127 } }];
    const dim = { light: { targetPpfdUmol: { lowest: 900, highest: 950 } }, shelves };
    expect(found(dim)['light-too-low']?.text).toContain('at 127 mm (estimated)');
    expect(found({ ...dim, lengths: 'imperial' })['light-too-low']?.text).toContain('at 5 in (est');
    const metred = light({ readings: metered({ 4: 1.5 }) });
    expect(found(metred)['reading-outlier']?.text).toContain('at 500, 100 mm on shelf 1');
    expect(found({ ...metred, lengths: 'imperial' })['reading-outlier']?.text).toContain(
      'at 19.69, 3.94 in on shelf 1',
    );
  });
});

describe('blocks of a drawn layout', () => {
  // Columns of the trade sheet's grid and the block each belongs to.
  const drawn = (blockOfColumn: string): Layout => ({
    scheme: 'complete-blocks',
    seed: 'x',
    drawnAt: '2026-01-01T00:00:00Z',
    engineVersion: '1',
    drawnFrom: '',
    candidates: 1,
    swaps: [],
    plantedAt: null,
    assignments: [1, 2, 3].flatMap((row) =>
      [...blockOfColumn].map((block, i) => ({
        potId: `t1:${row}:${i + 1}`,
        block,
        levels: {},
        plant: null,
      })),
    ),
  });
  const unevenIn = (layout: Layout) =>
    lightNotices({
      rack: { shelves: [threeStrips()], lampKinds: [kind()] },
      light: lightPlan({ lowestMinToMean: 0.8 }),
      layout,
    }).filter((notice) => notice.kind === 'light-uneven');

  it('even blocks turn the warning about their tray into a note', () => {
    const notices = unevenIn(drawn('ABCCBA'));
    expect(notices.map((n) => [n.severity, n.about])).toEqual([['note', ['tray:t1']]]);
    expect(notices[0]?.text).toContain('blocks are even');
  });

  it('an uneven block is warned of by name', () => {
    // Columns 1 and 3: mean (2 · 67.0 + 80.9 + 2 · 93.2 + 112.6) / 6 = 85.6, darkest 0.78 of it.
    const notices = unevenIn(drawn('ABABCC'));
    expect(notices.map((n) => n.about)).toEqual([['tray:t1'], ['block:A']]);
    expect(notices.every((n) => n.severity === 'warn')).toBe(true);
    expect(notices[1]?.text).toContain('0.78 of the mean 85.6 over 6 pots');
  });

  it('pots that are all one block, and blocks that are whole trays, are the tray’s matter', () => {
    expect(unevenIn(drawn('AAAAAA')).map((n) => n.about)).toEqual([['tray:t1']]);
    const layout = drawn('AAAAAA');
    const elsewhere = { potId: 't2:1:1', block: 'B', levels: {}, plant: null };
    const two = lightNotices({
      rack: {
        shelves: [
          threeStrips(),
          shelf({ id: 's2', lamps: [lamp({ id: 'l9' })], trays: [tray({ id: 't2' })] }),
        ],
        lampKinds: [kind()],
      },
      light: lightPlan({ lowestMinToMean: 0.8 }),
      layout: { ...layout, assignments: [...layout.assignments, elsewhere] },
    }).filter((notice) => notice.kind === 'light-uneven');
    expect(two.map((n) => n.about)).toEqual([['tray:t1'], ['tray:t2']]);
  });
});

describe('a photometric file that cannot be used', () => {
  const broken = kind({
    emission: { kind: 'file', fileName: 'lamp.ies', text: 'IESNA91\nTILT=NONE\n1 x' },
  });

  it('is named once, with line, found and expected, and the shelves it darkens', () => {
    const shelves = [threeStrips(), shelf({ id: 's2', number: 2, lamps: [lamp({ id: 'l8' })] })];
    const { 'lamp-file-broken': notice } = found({ shelves, kinds: [broken] });
    expect(notice).toMatchObject({
      severity: 'stop',
      about: ['lampKind:k1', 'shelf:s1', 'shelf:s2'],
    });
    expect(notice?.text).toContain('lamp.ies');
    expect(notice?.text).toContain('line 3: not a number; found “x”');
    expect(notice?.text).toContain('shelves 1 and 2');
  });

  it('of a kind that hangs nowhere stays unmentioned', () => {
    const kinds = [kind(), { ...broken, id: 'k2' }];
    expect(Object.keys(found({ kinds }))).toEqual(['no-readings']);
  });
});
