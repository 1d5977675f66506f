import { describe, expect, it } from 'vitest';
import type { Lamp, LampKind } from '../../../shared-types/rack';
import { upperAngle } from '../../../renderer/engine/light/angle';
import { beamExponent, beamLine, peakPerFlux } from '../../../renderer/engine/light/sources/beam';
import { directAtPoints, readyLamps } from '../../../renderer/engine/light/sources/direct';
import { gaussLegendreRule } from '../../../renderer/engine/light/sources/quadrature';
import { kind, lamp, shelf } from './racks';

// Published-style figures: tests/reference/trade-facts.md, sections 1.1 to 1.5; its lengths are m.
const REL = 1e-9;
// The sheet prints ten figures.
const PRINTED = 5.1e-10;

function near(found: number, expected: number, relative = REL) {
  if (expected === 0) return expect(found).toBe(0);
  expect(Math.abs(found - expected) / Math.abs(expected)).toBeLessThanOrEqual(
    relative === REL ? REL + PRINTED : relative,
  );
}

/** PPFD at a point given in m below (h) and sideways from a lamp at the origin of the plane. */
function at(k: LampKind, l: Lamp, xM: number, yM: number, hM: number): number {
  const bay = shelf({ lamps: [{ ...l, xMm: 0, yMm: 0, zMm: 1000 }] });
  const point = { xMm: 1000 * xM, yMm: 1000 * yM, zMm: 1000 - 1000 * hM };
  return directAtPoints(readyLamps(bay, [k]), [point])[0] ?? NaN;
}

interface Plate {
  length: number;
  width: number;
  along: number;
  across: number;
}

/** Independent check: midpoint sum over a plate of cosᵐ elements, straight from the definition. */
function midpointSum(
  size: Plate,
  m: number,
  tilt: number,
  point: { x: number; y: number; h: number },
): number {
  let sum = 0;
  const normal = { y: Math.sin(tilt), z: -Math.cos(tilt) };
  for (let i = 0; i < size.along; i++) {
    const sx = ((i + 0.5) / size.along - 0.5) * size.length;
    for (let j = 0; j < size.across; j++) {
      const w = ((j + 0.5) / size.across - 0.5) * size.width;
      const dx = point.x - sx;
      const dy = point.y - w * Math.cos(tilt);
      const dz = -point.h - w * Math.sin(tilt);
      const r2 = dx * dx + dy * dy + dz * dz;
      const r = Math.sqrt(r2);
      const cosine = (dy * normal.y + dz * normal.z) / r;
      if (cosine <= 0 || dz >= 0) continue;
      sum += ((Math.pow(cosine, m) * -dz) / r / r2) * ((m + 1) / (2 * Math.PI));
    }
  }
  return sum / (size.along * size.across);
}

/** Two midpoint sums, the second of half the step, freed of their error in step² (Richardson). */
function bruteForce(size: Plate, m: number, tiltDeg: number, point: Point): number {
  const tilt = (tiltDeg * Math.PI) / 180;
  const finer = { ...size, along: 2 * size.along, across: Math.max(1, 2 * size.across) };
  if (size.width === 0) finer.across = 1;
  return 40 * ((4 * midpointSum(finer, m, tilt, point) - midpointSum(size, m, tilt, point)) / 3);
}

type Point = { x: number; y: number; h: number };

describe('beam angle (trade sheet 1.2)', () => {
  it.each([
    [30, 19.99372736, 3.341255483],
    [45, 8.754777494, 1.552521057],
    [60, 4.818841679, 0.9260974163],
    [90, 2, 0.4774648293],
    [100, 1.56841593, 0.4087760912],
    [115, 1.115820732, 0.3367433282],
    [120, 1, 0.3183098862],
    [130, 0.8047816999, 0.2872399287],
    [140, 0.6460587703, 0.2619783899],
  ])('%d degrees', (angle, m, peak) => {
    near(beamExponent(angle), m);
    near(peakPerFlux(beamExponent(angle)), peak);
  });

  it('refuses angles of 0 and 180 degrees', () => {
    expect(() => beamExponent(0)).toThrow('more than 0 and less than 180');
    expect(() => beamExponent(180)).toThrow('more than 0 and less than 180');
  });
});

describe('the line integral of a beam', () => {
  const cases = [5, 30, 90, 120, 150, 175].flatMap((angle) =>
    [0.005, 0.05, 0.3, 2].map((rho) => ({ angle, rho })),
  );
  it.each(cases)('as by its definition at $angle degrees, $rho m away', ({ angle, rho }) => {
    const m = beamExponent(angle);
    const { nodes, weights } = gaussLegendreRule(12);
    for (const [x1, x2] of [
      [-0.6, 0.6],
      [-0.1, 1.1],
      [0.3 * rho, 0.3 * rho + 0.2],
    ] as const) {
      // ρᵐ ∫ (1 + 0.2 x) / (ρ² + x²)^((m+3)/2) dx in pieces that grow away from the foot at 0.
      const ends = [x1, x2];
      for (let x = rho / 40; x < 2; x *= 1.15) ends.push(x, -x);
      const inside = ends.filter((x) => x >= x1 && x <= x2).sort((a, b) => a - b);
      let expected = 0;
      for (let i = 0; i + 1 < inside.length; i++) {
        const [from = 0, to = 0] = [inside[i], inside[i + 1]];
        nodes.forEach((node, n) => {
          const x = (from + to) / 2 + ((to - from) / 2) * node;
          const r2 = rho * rho + x * x;
          const beam = Math.pow(rho / Math.sqrt(r2), m) * Math.pow(r2, -1.5);
          expected += ((weights[n] ?? 0) * (to - from) * (1 + 0.2 * x) * beam) / 2;
        });
      }
      const found = beamLine(m)(rho, 1, 0.2, x1, x2);
      // Far outside a narrow beam only the absolute size counts.
      if (expected * rho * rho < 1e-9) expect(found * rho * rho).toBeLessThan(1e-9);
      else near(found, expected, 1e-6);
    }
  });

  it('far beyond the end of the line too', () => {
    const [rho, x1, x2, m] = [0.01, 0.5, 0.8, beamExponent(100)];
    let expected = 0;
    const count = 200_000;
    for (let i = 0; i < count; i++) {
      const x = x1 + ((i + 0.5) / count) * (x2 - x1);
      expected += Math.pow(rho, m) * Math.pow(rho * rho + x * x, -(m + 3) / 2);
    }
    near(beamLine(m)(rho, 1, 0, x1, x2), (expected * (x2 - x1)) / count, 1e-6);
  });
});

describe('point source (trade sheet 1.1, peak intensity 100)', () => {
  const angleFor = (m: number) => (360 / Math.PI) * Math.acos(Math.pow(0.5, 1 / m));
  it.each([
    [0.3, 0, [1111.111111, 1111.111111, 1111.111111]],
    [0.3, 0.3, [277.7777778, 196.4185503, 138.8888889]],
    [0.5, 0.4, [148.7209994, 116.1315897, 90.68353622]],
  ])('%d m below, %d m sideways', (h, d, values) => {
    values.forEach((expected, i) => {
      const m = i + 1;
      const spot = kind({
        shape: 'spot',
        emission: m === 1 ? { kind: 'lambertian' } : { kind: 'beam', fullAngleDeg: angleFor(m) },
        output: { kind: 'photons', fluxUmolS: (100 * 2 * Math.PI) / (m + 1) },
      });
      near(at(spot, lamp(), 0, d, h), expected);
    });
  });

  it('spot on a tilted lamp follows I₀ cosᵐθ cos i / r²', () => {
    const spot = kind({ shape: 'spot', emission: { kind: 'beam', fullAngleDeg: 90 } });
    // Tilted by 45° towards the back, seen in its own axis: θ = 0, incidence 45°, r = 0.3 √2.
    const expected = (40 * (3 / (2 * Math.PI)) * Math.SQRT1_2) / (2 * 0.09);
    near(at(spot, lamp({ tiltDeg: 45 }), 0, 0.3, 0.3), expected);
  });

  it('five-times rule: a line over the same point (trade sheet 1.3)', () => {
    [
      [1, 0.863647609],
      [2, 0.9605455615],
      [3, 0.9819325187],
      [5, 0.9933927674],
      [10, 0.9983370744],
    ].forEach(([h = 0, ratio = 0]) => {
      const line = at(kind({ lengthMm: 100 }), lamp(), 0, 0, h * 0.1);
      const point = at(kind({ shape: 'spot' }), lamp(), 0, 0, h * 0.1);
      near(line / point, ratio);
    });
  });
});

describe('flat strip (trade sheet 1.4)', () => {
  it.each([
    [1.2, 0, 0, 0.3, 53.30448187],
    [1.2, 0, 0.15, 0.3, 37.63102759],
    [1.2, 0, 0.3, 0.3, 17.84028222],
    [1.2, 0.6, 0, 0.3, 27.60651741],
    [0.9, 0, 0.2, 0.4, 32.60806607],
  ])('length %d, point %d, %d, height %d', (length, x, y, h, expected) => {
    const strip = kind({ lengthMm: 1000 * length });
    near(at(strip, lamp(), x, y, h), expected);
    // The same turned by a right angle about the vertical, and by 30 degrees.
    near(at(strip, lamp({ rotationDeg: 90 }), -y, x, h), expected);
    const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
    near(at(strip, lamp({ rotationDeg: 30 }), c * x - s * y, s * x + c * y, h), expected);
  });

  // A strip is a rectangle, judged by its definition: midpoint sum over its face.
  it.each([20, 60, 120, 300, 480, 560, 640, 800])('is as wide as it is, %d mm below', (h) => {
    const wide = kind({ lengthMm: 1000, widthMm: 60 });
    const size = { length: 1, width: 0.06, along: 1500, across: 90 };
    for (const tilt of [0, 35]) {
      const found = at(wide, lamp({ tiltDeg: tilt }), 0.05, 0.02, h / 1000);
      const point = { x: 0.05, y: 0.02, h: h / 1000 };
      const expected = midpointSum(size, 1, (tilt * Math.PI) / 180, point) * 40;
      expect(Math.abs(found / expected - 1)).toBeLessThan(0.001);
    }
  });

  it('approaches the infinite strip', () => {
    const long = kind({
      lengthMm: 20_000_000,
      output: { kind: 'photons', fluxUmolS: (40 / 1.2) * 20_000 },
    });
    near(at(long, lamp(), 0, 0, 0.3), 55.55555556);
  });

  it('sends nothing behind its face nor to a plane above it', () => {
    expect(at(kind(), lamp(), 0, 0, -0.1)).toBe(0);
    expect(at(kind(), lamp(), 0, 0, 0)).toBe(0);
    expect(at(kind(), lamp({ tiltDeg: 60 }), 0, -0.6, 0.3)).toBe(0);
  });

  it('is a cos¹ beam of 120 degrees', () => {
    for (const [x, y, h, tilt] of [
      [0, 0, 0.3, 0],
      [0.55, 0.25, 0.3, 0],
      [0.2, 0.1, 0.05, 20],
      [1.5, 0.4, 0.6, -35],
    ] as const) {
      const flat = at(kind(), lamp({ tiltDeg: tilt }), x, y, h);
      // 120° gives m = 1 up to rounding, so the general beam is asked beside it.
      const beam = kind({ emission: { kind: 'beam', fullAngleDeg: 120.000001 } });
      near(at(beam, lamp({ tiltDeg: tilt }), x, y, h), flat, 1e-7);
    }
  });
});

describe('panel', () => {
  it.each([
    [1, 1, 0.138531606],
    [2, 1, 0.1673750099],
    [2, 2, 0.207757125],
    [3, 1.5, 0.2032316053],
    [0.5, 0.5, 0.05986411762],
  ])('element under one corner, %d by %d (trade sheet 1.5)', (x, y, factor) => {
    const h = 0.4;
    const panel = kind({
      shape: 'panel',
      lengthMm: 1000 * x * h,
      widthMm: 1000 * y * h,
      // One µmol s⁻¹ from each m², so that the PPFD is the view factor.
      output: { kind: 'photons', fluxUmolS: x * h * y * h },
    });
    near(at(panel, lamp(), (x * h) / 2, (y * h) / 2, h), factor);
    // The contour formula, reached by the smallest of tilts.
    near(at(panel, lamp({ tiltDeg: 1e-9 }), (x * h) / 2, (y * h) / 2, h), factor);
  });

  it('a panel much longer than wide is a strip', () => {
    const thin = kind({ shape: 'panel', widthMm: 0.01 });
    near(at(thin, lamp(), 0, 0.15, 0.3), 37.63102759, 1e-8);
    near(at(kind({ shape: 'panel', widthMm: 0 }), lamp(), 0, 0.15, 0.3), 37.63102759);
  });
});

describe('against a midpoint sum straight from the definition', () => {
  const points = [
    { x: 0, y: 0, h: 0.3 },
    { x: 0.5, y: 0.25, h: 0.3 },
    { x: -0.2, y: 0.4, h: 0.15 },
    { x: 0.7, y: -0.1, h: 0.5 },
  ];
  // Far outside a narrow beam only the absolute size counts: less than 1e-9 of a lit point.
  const compare = (found: number, expected: number) => {
    if (expected < 1e-7) expect(found).toBeLessThan(1e-6);
    else near(found, expected, 1e-6);
  };
  const cases = [0, 25, -50].flatMap((tilt) =>
    [30, 60, 100, 140].map((angle) => ({ tilt, angle })),
  );
  it.each(cases)('strip of $angle degrees tilted by $tilt', ({ tilt, angle }) => {
    const strip = kind({ emission: { kind: 'beam', fullAngleDeg: angle } });
    const size = { length: 1.2, width: 0, along: 600, across: 1 };
    for (const point of points) {
      const expected = bruteForce(size, beamExponent(angle), tilt, point);
      compare(at(strip, lamp({ tiltDeg: tilt }), point.x, point.y, point.h), expected);
    }
  });

  it.each(cases)('panel of $angle degrees tilted by $tilt', ({ tilt, angle }) => {
    const panel = kind({
      shape: 'panel',
      lengthMm: 600,
      widthMm: 300,
      emission: { kind: 'beam', fullAngleDeg: angle },
    });
    const size = { length: 0.6, width: 0.3, along: 300, across: 150 };
    for (const point of points) {
      const expected = bruteForce(size, beamExponent(angle), tilt, point);
      compare(at(panel, lamp({ tiltDeg: tilt }), point.x, point.y, point.h), expected);
    }
  });

  it.each([0, 25, -50])('flat panel tilted by %d', (tilt) => {
    const panel = kind({ shape: 'panel', lengthMm: 600, widthMm: 300 });
    const size = { length: 0.6, width: 0.3, along: 300, across: 150 };
    for (const point of points) {
      const expected = bruteForce(size, 1, tilt, point);
      compare(at(panel, lamp({ tiltDeg: tilt }), point.x, point.y, point.h), expected);
    }
  });
});

describe('lamps', () => {
  it('dimming scales, and a kind that is not there is named', () => {
    const full = at(kind(), lamp(), 0, 0, 0.3);
    expect(at(kind(), lamp({ dimming: 0.25 }), 0, 0, 0.3)).toBeCloseTo(full / 4, 12);
    expect(() => at(kind({ id: 'k2' }), lamp(), 0, 0, 0.3)).toThrow('kind k1 is not among');
  });

  it('all the flux of a strip arrives on a large plane below it', () => {
    let sum = 0;
    const step = 0.02;
    const half = 6;
    for (let x = step / 2; x < half; x += step) {
      for (let y = step / 2; y < half; y += step) {
        sum += 4 * step * step * at(kind({ lengthMm: 200 }), lamp(), x, y, 0.3);
      }
    }
    // What passes beyond ±6 m is of order (0.3/6)².
    expect(sum / 40).toBeGreaterThan(0.995);
    expect(sum / 40).toBeLessThan(1);
  });
});

describe('the quick angle of the innermost loop', () => {
  it('is that of the language’s own arctangent over the upper half plane', () => {
    let worst = 0;
    for (let i = 0; i <= 4000; i++) {
      const at = (Math.PI * i) / 4000;
      for (const size of [1e-6, 1, 3e7]) {
        const [y, x] = [Math.abs(size * Math.sin(at)), size * Math.cos(at)];
        const exact = Math.atan2(y, x);
        worst = Math.max(worst, Math.abs(upperAngle(y, x) - exact) / Math.max(exact, 1e-3));
      }
    }
    expect(worst).toBeLessThan(1e-14);
    expect(upperAngle(0, 5)).toBe(0);
    expect(upperAngle(1e-12, 1)).toBeCloseTo(1e-12, 24);
  });
});

describe('level receivers in one loop', () => {
  it.each([
    [0, 0],
    [0, 35],
    [90, 0],
    [27, -50],
    [180, 100],
  ])('get what each gets alone: strip turned %d° and tipped %d°', (rotationDeg, tiltDeg) => {
    const hung = lamp({ rotationDeg, tiltDeg });
    const ready = readyLamps(shelf({ lamps: [hung] }), [kind()]);
    const points = Array.from({ length: 200 }, (_, i) => ({
      xMm: -200 + ((i * 37) % 1600),
      yMm: -150 + ((i * 61) % 900),
      // Some above the lamp, which hangs at 300 mm.
      zMm: (i * 17) % 340,
    }));
    const together = directAtPoints(ready, points);
    const alone = directAtPoints(
      ready.map((one) => ({ ...one, level: null })),
      points,
    );
    expect(Math.max(...alone)).toBeGreaterThan(10);
    together.forEach((value, i) => {
      expect(Math.abs(value - (alone[i] ?? NaN))).toBeLessThan(1e-9 * Math.max(1, alone[i] ?? 0));
    });
  });
});
