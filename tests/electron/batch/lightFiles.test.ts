import { describe, expect, it } from 'vitest';
import { newGrid } from '../../../renderer/document/new';
import { kind, lamp, shelf, tray } from '../../engine/light/racks';
import { run, answerOf, planOf, lumens, bare } from './lightAnswer';

describe('light from the shell: a lamp with a photometric file', () => {
  // 600 cd along the lamp and 1200 cd across, the same from straight down to level: with straight
  // lines between the planes ∫ I dω = 2π · 900 lm.
  const text = [
    'IESNA:LM-63-2002',
    'TILT=NONE',
    '1 -1 1 3 2 1 2 0 0 0',
    '1 1 20',
    '0 45 90',
    '0 90',
    '600 600 600',
    '1200 1200 1200',
  ].join('\n');
  const measured = kind({
    shape: 'spot',
    lengthMm: 0,
    emission: { kind: 'file', fileName: 'two-planes.ies', text },
    output: { kind: 'photons', fluxUmolS: 50 },
  });
  const H = 300;
  const TILT = 20;
  /** µmol s⁻¹ sr⁻¹ in the plane along the lamp and in the one across. */
  const along = (50 * 600) / (2 * Math.PI * 900);
  const across = 2 * along;
  /** E = I cos θ / d² on a level receiver H below the lamp. */
  const from = (intensity: number, dx: number, dy: number) =>
    (1e6 * intensity * H) / (dx * dx + dy * dy + H * H) ** 1.5;
  const row = (xMm: number, yMm: number, rows: number, columns: number) =>
    tray({
      xMm: xMm - 20,
      yMm: yMm - 20,
      widthMm: 40,
      depthMm: 40,
      grid: {
        ...newGrid({ widthMm: 40, depthMm: 40 }),
        rows,
        columns,
        pitchXMm: 120,
        pitchYMm: 120,
        potDiameterMm: 30,
        firstXMm: 20,
        firstYMm: 20,
      },
    });

  it('turned a quarter: along the lamp is from front to back', async () => {
    const hung = lamp({ xMm: 600, yMm: 300, zMm: H, rotationDeg: 90 });
    const trays = [row(600, 180, 3, 1), { ...row(480, 300, 1, 3), letter: 'B' }];
    const { pots } = await answerOf(planOf([shelf({ trays, lamps: [hung] })], [measured]));
    expect(pots.map((pot) => pot.pot)).toEqual([
      '1A-A1',
      '1A-B1',
      '1A-C1',
      '1B-A1',
      '1B-A2',
      '1B-A3',
    ]);
    expect(pots[0]?.ppfd_umol_m2_s).toBeCloseTo(from(along, 0, -120), 6);
    expect(pots[2]?.ppfd_umol_m2_s).toBeCloseTo(from(along, 0, 120), 6);
    expect(pots[3]?.ppfd_umol_m2_s).toBeCloseTo(from(across, -120, 0), 6);
    expect(pots[5]?.ppfd_umol_m2_s).toBeCloseTo(from(across, 120, 0), 6);
  });

  it('and tipped: it faces left, so its plane along the lamp meets the canopy farther left', async () => {
    const hung = lamp({ xMm: 600, yMm: 300, zMm: H, rotationDeg: 90, tiltDeg: TILT });
    const left = H * Math.tan((TILT * Math.PI) / 180);
    const trays = [row(600 - left, 180, 3, 1)];
    const { pots } = await answerOf(planOf([shelf({ trays, lamps: [hung] })], [measured]));
    expect(pots[0]?.ppfd_umol_m2_s).toBeCloseTo(from(along, left, -120), 6);
    expect(pots[2]?.ppfd_umol_m2_s).toBeCloseTo(from(along, left, 120), 6);
  });

  it('that cannot be read stops its shelf alone: named in JSON, refused as a table', async () => {
    const emission = {
      kind: 'file',
      fileName: 'torn.ies',
      text: 'IESNA91\nTILT=NONE\n1 x',
    } as const;
    const torn = kind({ id: 'k2', name: 'torn', emission });
    const dark = { ...bare, number: 2, lamps: [lamp({ kindId: 'k2' })] };
    const plan = planOf([bare, dark], [lumens, torn]);
    const found = await answerOf(plan);
    expect(found.pots).toHaveLength(18);
    expect(found.shelves.map((row) => row.shelf)).toEqual([1]);
    expect(Object.keys(found.problems)).toEqual(['shelf 2']);
    expect(found.problems['shelf 2']).toMatch(/torn\.ies, line 3: .*found “x”; expected/);
    // What the lamps draw is known still; what becomes of their photons is not.
    expect(found.energy.power_w).toBe(20 + 20);
    expect(found.energy.shelves[1]).toMatchObject({
      kwh_per_day: 0.32,
      mol_per_day: null,
      mol_per_kwh: null,
      share_on_trays: null,
    });
    const { code, out, err } = await run(plan, '--csv');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(/^shelf 2: its light cannot be computed: .*torn\.ies, line 3/);
  });
});
