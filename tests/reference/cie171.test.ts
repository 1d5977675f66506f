/**
 * The analytic cases of CIE 171:2006, “Test cases to assess the accuracy of lighting computer programs”,
 * that are about what the program computes, by their numbers. The report's text and tables were not at
 * hand: numbers, subjects and rooms are from memory; what is expected is computed here from the published
 * formula that each case rests on. Cases of glass (5.5), of a screen within a room (5.7) and of the sky
 * (5.9 to 5.14) have nothing that answers to them here.
 */
import { describe, expect, it } from 'vitest';
import {
  addLampOnPatches,
  bayBox,
  FACES,
  reflectanceOfPatches,
  solveRadiosity,
} from '../../renderer/engine/light/bay';
import { gather } from '../../renderer/engine/light/bay/gather';
import { readyLamps } from '../../renderer/engine/light/sources/direct';
import { readPhotometry } from '../../renderer/engine/lamps';
import type { Lamp, LampKind } from '../../shared-types/rack';
import { kind, lamp, shelf } from '../engine/light/racks';
import { elementToParallel, elementToUpright } from './howell';

const UP = [0, 0, 1] as const;
type Normal = readonly [number, number, number];

/** Light of one lamp at a point in m, on a side that looks along the normal. */
function at(k: LampKind, l: Lamp, [x, y, z]: readonly number[], normal: Normal): number {
  const [ready] = readyLamps(shelf({ lamps: [l] }), [k]);
  if (!ready || x === undefined || y === undefined || z === undefined)
    throw new Error('a lamp and a point are expected');
  return ready.fluxUmolS * ready.perFlux(1000 * x, 1000 * y, 1000 * z, ...normal);
}

const near = (found: number, expected: number, share = 1e-9) =>
  expect(Math.abs(found / expected - 1)).toBeLessThan(share);

describe('CIE 171:2006', () => {
  // E = I(C, γ) cos i / d²: Lambert's cosine and the inverse square.
  describe('5.2 point sources, by a photometric file, in a room of 4 × 4 × 3 m', () => {
    const [gammas, planes] = [
      [0, 15, 30, 45, 60, 75, 90],
      [0, 45, 90],
    ];
    const candela = [
      [410, 400, 365, 300, 205, 95, 0],
      [410, 392, 350, 280, 185, 82, 0],
      [410, 385, 335, 262, 168, 70, 0],
    ];
    const text = [
      'IESNA:LM-63-2002',
      'TILT=NONE',
      `1 -1 1 ${gammas.length} ${planes.length} 1 2 0 0 0`,
      '1 1 20',
      gammas.join(' '),
      planes.join(' '),
      ...candela.map((row) => row.join(' ')),
    ].join('\n');
    const answer = readPhotometry(text);
    const lumens = answer.ok ? answer.photometry.integratedLumens : NaN;
    // As many µmol as the file has lumens: PPFD is then lux.
    const spot = kind({
      shape: 'spot',
      emission: { kind: 'file', fileName: 'lamp.ies', text },
      output: { kind: 'photons', fluxUmolS: lumens },
    });
    const hung = lamp({ xMm: 2000, yMm: 2000, zMm: 3000 });
    const radians = (degrees: number) => (degrees * Math.PI) / 180;

    it.each(
      planes.flatMap((c, p) => [0, 15, 30, 45].map((g, i) => [c, g, candela[p]?.[i]] as const)),
    )('on the floor at C %i°, γ %i°', (c, g, intensity = NaN) => {
      const foot = 3 * Math.tan(radians(g));
      const point = [2 + foot * Math.cos(radians(c)), 2 + foot * Math.sin(radians(c)), 0];
      near(at(spot, hung, point, UP), (intensity * Math.cos(radians(g)) ** 3) / 9);
    });

    it.each([
      [45, 300],
      [60, 205],
      [75, 95],
    ])('on the wall at C 0°, γ %i°', (g, intensity) => {
      const down = 2 / Math.tan(radians(g));
      const expected = (intensity * Math.sin(radians(g)) ** 3) / 4;
      near(at(spot, hung, [4, 2, 3 - down], [-1, 0, 0]), expected);
    });
  });

  // E = M F, M the light that leaves each m²; F by the catalogue (B-3, B-4).
  describe('5.3 area sources', () => {
    const panel = kind({
      shape: 'panel',
      lengthMm: 1000,
      widthMm: 1000,
      output: { kind: 'photons', fluxUmolS: 10_000 },
    });
    const hung = lamp({ xMm: 2000, yMm: 2000, zMm: 3000 });

    it.each([
      [0, 0],
      [0.25, 0.4],
      [0.5, 0.5],
      [1.5, 0],
      [1.9, 1.9],
    ])('on the floor %f and %f m from the middle', (dx, dy) => {
      const corner = (x: number, y: number) =>
        Math.sign(x * y) * elementToParallel(Math.abs(x), Math.abs(y), 3);
      const factor =
        corner(dx + 0.5, dy + 0.5) -
        corner(dx + 0.5, dy - 0.5) -
        corner(dx - 0.5, dy + 0.5) +
        corner(dx - 0.5, dy - 0.5);
      near(at(panel, hung, [2 + dx, 2 + dy, 0], UP), 10_000 * factor);
    });

    it.each([0.5, 1.5, 2.5])('on the wall, %f m above the floor', (z) => {
      // As a rectangle that stands upright on the plane of the element: two halves, less what is nearer.
      const below = 3 - z;
      const factor = 2 * (elementToUpright(2.5, 0.5, below) - elementToUpright(1.5, 0.5, below));
      near(at(panel, hung, [4, 2, z], [-1, 0, 0]), 10_000 * factor);
    });
  });

  // Σ E A = Φ: what a source gives arrives.
  it.each([500, 1000, 2000])('5.4 conservation of flux, from an opening %i mm wide', (wide) => {
    const panel = kind({ shape: 'panel', lengthMm: wide, widthMm: wide });
    const hung = lamp({ xMm: 2000, yMm: 2000, zMm: 2990 });
    const [ready] = readyLamps(shelf({ lamps: [hung] }), [panel]);
    if (!ready) throw new Error('a lamp is expected');
    const size = { widthMm: 4000, depthMm: 4000, bottomMm: 0, topMm: 3000 };
    const box = bayBox(size, { x: 4, y: 4, z: 3 });
    const faces = FACES.map((face) => box.faces[face]);
    const direct = addLampOnPatches(box, ready, faces);
    const landed = direct.reduce((sum, value, i) => sum + value * (box.areaM2[i] ?? 0), 0);
    near(landed, ready.fluxUmolS, 0.001);
  });

  // E / (ρ E₀) = F: a matt surface that is evenly lit is an area source.
  describe('5.6 reflection by matt surfaces, 4 × 4 m', () => {
    const size = { widthMm: 4000, depthMm: 4000, bottomMm: 0, topMm: 3000 };
    const box = bayBox(size, { x: 2, y: 2, z: 2 });
    const lit = (face: 'above' | 'left') => {
      const { first, across, up } = box.faces[face];
      return new Float64Array(box.count).fill(0.8 * 100, first, first + across * up);
    };
    it.each([0.5, 1, 2])('on a parallel plane 3 m away, %f m from its edges', (d) => {
      const [near1, far1] = [d, 4 - d];
      const factor =
        elementToParallel(near1, near1, 3) +
        2 * elementToParallel(near1, far1, 3) +
        elementToParallel(far1, far1, 3);
      const found = gather(box, lit('above'), [{ xMm: 1000 * d, yMm: 1000 * d, zMm: 0 }]);
      near(found[0] ?? NaN, 80 * factor);
    });
    it.each([0.25, 1, 3.5])('on a plane at right angles, %f m from it', (c) => {
      const found = gather(box, lit('left'), [{ xMm: 1000 * c, yMm: 2000, zMm: 0 }]);
      near(found[0] ?? NaN, 80 * 2 * elementToUpright(3, 2, c));
    });
  });

  // E = Φ ρ / (A (1 − ρ)), the sum over all reflections (Sumpner), mean over the walls.
  it.each([
    [0.05, 5.48],
    [0.1, 11.57],
    [0.3, 44.64],
    [0.5, 104.17],
    [0.7, 243.06],
    [0.8, 416.67],
    [0.9, 937.5],
    [0.95, 1979.17],
  ])('5.8 reflected light in a cube of 4 m, 10,000 lm in its middle, ρ %f', (rho, expected) => {
    const size = { widthMm: 4000, depthMm: 4000, bottomMm: 0, topMm: 4000 };
    const box = bayBox(size, { x: 4, y: 4, z: 4 });
    // Solid angle of each quarter face and its parts, seen from the middle: Φ / 4π each.
    const angle = (x: number, y: number) => Math.atan((x * y) / (2 * Math.hypot(x, y, 2)));
    const onPatch = (i: number, j: number) => {
      const [x, y] = [i - 2, j - 2];
      const seen = angle(x + 1, y + 1) - angle(x, y + 1) - angle(x + 1, y) + angle(x, y);
      return (10_000 / (4 * Math.PI)) * seen;
    };
    const direct = new Float64Array(box.count);
    for (const face of FACES) {
      const { first } = box.faces[face];
      for (let j = 0; j < 4; j++)
        for (let i = 0; i < 4; i++) direct[first + 4 * j + i] = onPatch(i, j);
    }
    near(
      direct.reduce((sum, value) => sum + value, 0),
      10_000,
    );
    const walls = { front: rho, back: rho, left: rho, right: rho };
    const grey = reflectanceOfPatches(box, { canopy: rho, above: rho, ...walls });
    const { arriving } = solveRadiosity(
      box,
      grey,
      direct.map((value) => rho * value),
    );
    const mean = arriving.reduce((sum, value) => sum + value, 0) / box.count;
    near(mean, (10_000 * rho) / (96 * (1 - rho)), 1e-6);
    expect(mean).toBeCloseTo(expected, 1);
  });
});
