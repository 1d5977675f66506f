import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bayBox, reflectanceOfPatches, solveRadiosity } from '../../renderer/engine/light/bay';
import {
  parallelCorner,
  parallelExchange,
  perpendicularExchange,
} from '../../renderer/engine/light/bay/viewFactors';
import { beamExponent, peakPerFlux } from '../../renderer/engine/light/sources/beam';
import { dli, ppfdForDli } from '../../renderer/engine/light/dli';
import { readPhotometry } from '../../renderer/engine/lamps';

// The tables of tests/reference/trade-facts.md read from the sheet itself, row by row, so that a
// figure mistyped in a test cannot hide. The sheet prints ten figures; it asks for 1e-9.
const sheet = readFileSync('tests/reference/trade-facts.md', 'utf8');

function part(from: string, to: string): string {
  const start = sheet.indexOf(from);
  const end = sheet.indexOf(to, start);
  if (start < 0 || end < 0) throw new Error(`trade-facts.md: no part from “${from}” to “${to}”`);
  return sheet.slice(start, end);
}

const near = (found: number, expected: number) =>
  expect(Math.abs(found / expected - 1)).toBeLessThan(1.5e-9);

/** Rows `| label | value | …` as numbers, of the row that begins with the label. */
function row(text: string, label: string): number[] {
  const line = text.split('\n').find((l) => l.startsWith(`| ${label} `));
  if (line === undefined) throw new Error(`trade-facts.md: no row “${label}”`);
  return line.split('|').slice(2, -1).map(Number);
}

/** `(1, 2) → 0.5` and, with three numbers, `(1, 1, 1) → 0.05`. */
function factors(text: string): { at: number[]; value: number }[] {
  return [...text.matchAll(/\(([\d., ]+)\) → ([\d.]+\d)/g)].map((m) => ({
    at: (m[1] ?? '').split(',').map(Number),
    value: Number(m[2]),
  }));
}

describe('trade-facts.md', () => {
  it('1.2 beam angles', () => {
    const text = part('## 1.2', '## 1.3');
    const angles = row(text, 'FWHM');
    const exponents = row(text, 'm');
    const peaks = row(text, 'I₀/Φ');
    expect(angles).toHaveLength(9);
    angles.forEach((angle, i) => {
      near(beamExponent(angle), exponents[i] ?? NaN);
      near(peakPerFlux(beamExponent(angle)), peaks[i] ?? NaN);
    });
  });

  it('1.5 view factors', () => {
    const element = factors(part('- **Element to parallel', '- **Element to perpendicular'));
    expect(element).toHaveLength(5);
    for (const { at, value } of element) near(parallelCorner(at[0] ?? 0, at[1] ?? 0, 1), value);
    const parallel = factors(part('- **Aligned parallel', '- **Perpendicular'));
    expect(parallel).toHaveLength(6);
    for (const { at, value } of parallel) {
      const [x = 0, y = 0] = at;
      near(parallelExchange(x, y, 1, 0, 0) / (x * y), value);
    }
    const corner = factors(part('- **Perpendicular', 'Closure'));
    expect(corner).toHaveLength(6);
    for (const { at, value } of corner) {
      const [w = 0, h = 0] = at;
      near(perpendicularExchange(1, 0, 0, w, 0, h) / w, value);
    }
  });

  it('1.6 a box with one emitting ceiling', () => {
    const cases = [
      ...part('ρ floor, ceiling, walls', 'With ρ').matchAll(
        /([\d.]+), ([\d.]+), ([\d.]+) → \**([\d.]+\d)/g,
      ),
    ].map((m) => m.slice(1).map(Number));
    expect(cases).toHaveLength(8);
    const box = bayBox(
      { widthMm: 1200, depthMm: 600, bottomMm: 0, topMm: 400 },
      { x: 1, y: 1, z: 1 },
    );
    const { canopy, above } = box.faces;
    const emitted = new Float64Array(box.count).fill(1, above.first, above.first + 1);
    for (const [floor = 0, ceiling = 0, walls = 0, value = 0] of cases) {
      const sides = { front: walls, back: walls, left: walls, right: walls };
      const rho = reflectanceOfPatches(box, { canopy: floor, above: ceiling, ...sides });
      near(solveRadiosity(box, rho, emitted).arriving[canopy.first] ?? NaN, value);
    }
  });

  it('2 daily light integrals', () => {
    const text = part('PPFD, hours → DLI', 'Energy of light');
    const sums = [...text.matchAll(/(\d+), (\d+) → ([\d.]*\d)/g)].map((m) =>
      m.slice(1).map(Number),
    );
    expect(sums).toHaveLength(4);
    for (const [ppfd = 0, hours = 0, value = 0] of sums) near(dli(ppfd, hours), value);
    const needs = [...text.matchAll(/DLI (\d+) in (\d+) h (?:needs )?([\d.]*\d)/g)];
    expect(needs).toHaveLength(2);
    for (const m of needs) near(ppfdForDli(Number(m[1]), Number(m[2])), Number(m[3]));
  });

  it('3 the complete photometric file', () => {
    const text = part('```\nIESNA', '\n```\nChecks').replace('```\n', '');
    const answer = readPhotometry(text);
    if (!answer.ok) throw new Error(`line ${answer.line}: ${answer.reason}`);
    const whole = /trapezium in C \(weights ¼, ½, ¼\) ([\d.]+\d)/.exec(sheet)?.[1];
    near(answer.photometry.integratedLumens, Number(whole));
    const seen = /Candela at C 22.5, γ 37.5 \(bilinear\) ([\d.]+\d)/.exec(sheet)?.[1];
    for (const c of [22.5, 157.5, 202.5, 337.5]) {
      near(answer.photometry.intensity(37.5, c), Number(seen));
    }
  });
});
