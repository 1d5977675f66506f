import { describe, expect, it } from 'vitest';
import type { LampKind, Lamp, Reflectances } from '../../../shared-types/rack';
import {
  addLampOnPatches,
  bayBox,
  FACES,
  gather,
  reflectanceOfPatches,
  solveRadiosity,
} from '../../../renderer/engine/light/bay';
import { readyLamps } from '../../../renderer/engine/light/sources/direct';
import { ppfdAtPoints, shelfField } from '../../../renderer/engine/light/field';
import { bayOf } from '../../../renderer/engine/light/bay/bayOf';
import { potLight } from '../../../renderer/engine/light/potLight';
import { kind, lamp, lightPlan, shelf, tray } from './racks';

const grey: Reflectances = {
  above: 0.7,
  canopy: 0.1,
  front: 0.8,
  back: 0.8,
  left: 0.8,
  right: 0.8,
};
const open = { front: 0, back: 0, left: 0, right: 0 };

/** µmol s⁻¹ absorbed by all faces of a closed bay over what the lamp gives. */
function absorbedShare(k: LampKind, l: Lamp, reflectances: Reflectances): number {
  const bay = shelf({ lamps: [l], reflectances, clearanceMm: 450 });
  const box = bayOf(bay, 50);
  const ready = readyLamps(bay, [k])[0];
  if (!box || !ready) throw new Error('a bay with a lamp is expected');
  const direct = addLampOnPatches(
    box,
    ready,
    FACES.map((face) => box.faces[face]),
  );
  const rho = reflectanceOfPatches(box, reflectances);
  const emitted = direct.map((value, i) => value * (rho[i] ?? 0));
  const { arriving } = solveRadiosity(box, rho, emitted);
  let absorbed = 0;
  box.areaM2.forEach((area, i) => {
    absorbed += area * (1 - (rho[i] ?? 0)) * ((direct[i] ?? 0) + (arriving[i] ?? 0));
  });
  return absorbed / ready.fluxUmolS;
}

// A closed box keeps all light that a lamp gives, whatever the lamp (conservation of energy).
describe('flux of a lamp in a closed bay', () => {
  const lamps: [string, LampKind, Lamp][] = [
    ['strip', kind(), lamp({ zMm: 400 })],
    ['strip close to the back', kind({ lengthMm: 1100 }), lamp({ zMm: 420, yMm: 560 })],
    ['strip across', kind({ lengthMm: 500 }), lamp({ zMm: 400, rotationDeg: 90 })],
    ['tilted strip', kind({ lengthMm: 1100 }), lamp({ zMm: 400, tiltDeg: 40 })],
    ['panel', kind({ shape: 'panel', lengthMm: 500, widthMm: 300 }), lamp({ zMm: 420 })],
    ['spot', kind({ shape: 'spot' }), lamp({ zMm: 430, xMm: 200 })],
    [
      'narrow strip',
      kind({ emission: { kind: 'beam', fullAngleDeg: 60 } }),
      lamp({ zMm: 400, tiltDeg: -20 }),
    ],
    [
      'wide spot',
      kind({ shape: 'spot', emission: { kind: 'beam', fullAngleDeg: 140 } }),
      lamp({ zMm: 400 }),
    ],
  ];
  const black = { above: 0, canopy: 0, ...open };
  it.each(lamps)('%s, black and grey', (_, k, l) => {
    expect(Math.abs(absorbedShare(k, l, black) - 1)).toBeLessThan(0.005);
    expect(Math.abs(absorbedShare(k, l, grey) - 1)).toBeLessThan(0.005);
  });
});

describe('reflected light on a shelf', () => {
  const bay = shelf({
    clearanceMm: 450,
    reflectances: grey,
    lamps: [150, 450].map((yMm, i) => lamp({ id: `l${i + 1}`, yMm, zMm: 420 })),
    trays: [tray()],
  });
  const points = [
    { xMm: 100, yMm: 60, zMm: 50 },
    { xMm: 600, yMm: 300, zMm: 50 },
    { xMm: 1190, yMm: 590, zMm: 50 },
  ];
  const kinds = [kind()];

  it('is added to the direct light, most near the walls', () => {
    const direct = ppfdAtPoints(bay, kinds, points, { reflected: false });
    const both = ppfdAtPoints(bay, kinds, points, { reflected: true });
    const gain = both.map((value, i) => value / (direct[i] ?? 1));
    expect(Math.min(...gain)).toBeGreaterThan(1.1);
    expect(gain[2] ?? 0).toBeGreaterThan(gain[1] ?? 0);
  });

  it('changes nothing in a black or open bay', () => {
    const dark = { ...bay, reflectances: { above: 0, canopy: 0.3, ...open } };
    const [direct, both] = [false, true].map((reflected) =>
      ppfdAtPoints(dark, kinds, points, { reflected }),
    );
    expect(both).toEqual(direct);
  });

  it('an open front dims the front', () => {
    const opened = { ...bay, reflectances: { ...grey, front: 0 } };
    const found = ppfdAtPoints(opened, kinds, points, { reflected: true });
    const closed = ppfdAtPoints(bay, kinds, points, { reflected: true });
    expect(found[0] ?? 0).toBeLessThan(0.9 * (closed[0] ?? 0));
  });

  it('is the same in the field, at points and at pots', () => {
    const field = shelfField(bay, kinds, { heightMm: 0, gridMm: 200, reflected: true });
    const pots = potLight({ shelves: [bay], lampKinds: kinds }, lightPlan());
    const first = pots.pots.get('t1:1:1')?.ppfdUmol ?? NaN;
    expect(field.ppfd[0]).toBeCloseTo(first, 10);
    const bare = potLight({ shelves: [bay], lampKinds: kinds }, lightPlan(), { reflected: false });
    expect(bare.pots.get('t1:1:1')?.ppfdUmol ?? NaN).toBeLessThan(first);
  });

  it('patches half the size change the PPFD where pots can stand by less than 0.5 %', () => {
    const places = [
      [100, 60],
      [600, 300],
      [1150, 550],
      [600, 550],
      [60, 300],
    ].map(([xMm = 0, yMm = 0]) => ({ xMm, yMm, zMm: 50 }));
    const near = shelf({ ...bay, lamps: [lamp({ yMm: 558, zMm: 400 }), lamp({ zMm: 400 })] });
    const chosen = ppfdAtPoints(near, kinds, places, { reflected: true });
    const size = { widthMm: 1200, depthMm: 600, bottomMm: 50, topMm: 450 };
    const box = bayBox(size, { x: 24, y: 12, z: 16 });
    const direct = new Float64Array(box.count);
    for (const ready of readyLamps(near, kinds)) {
      addLampOnPatches(box, ready, Object.values(box.faces), direct);
    }
    const rho = reflectanceOfPatches(box, grey);
    const emitted = direct.map((value, i) => value * (rho[i] ?? 0));
    const finer = gather(box, solveRadiosity(box, rho, emitted).leaving, places);
    const bare = ppfdAtPoints(near, kinds, places, { reflected: false });
    chosen.forEach((value, i) => {
      expect(Math.abs(value / ((finer[i] ?? 0) + (bare[i] ?? 0)) - 1)).toBeLessThan(0.005);
    });
  });

  it('a closed bay without any absorption stops its shelf, and only it', () => {
    const mirror = { above: 1, canopy: 1, front: 1, back: 1, left: 1, right: 1 };
    const light = potLight(
      { shelves: [{ ...bay, reflectances: mirror }], lampKinds: kinds },
      lightPlan(),
    );
    expect(light.problems.get('s1')?.('metric')).toContain('one that absorbs is expected');
  });
});
