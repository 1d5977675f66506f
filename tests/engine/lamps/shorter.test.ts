import { expect, it } from 'vitest';
import type { LampKind, LampOutput } from '../../../shared-types/rack';
import { ofLength, photonFlux } from '../../../renderer/engine/lamps';
import { directAtPoints, readyLamps } from '../../../renderer/engine/light/sources/direct';
import { kind, lamp, shelf } from '../light/racks';

// 100 cd the same all over the lower half: 200π lm, of a strip 1.2 m long.
const text = 'IESNA91\nTILT=NONE\n1 -1 1 3 1 1 2 0 1.2 0\n1 1 20\n0 45 90\n0\n100 100 100';
const emission: LampKind['emission'] = { kind: 'file', fileName: 'even.ies', text };
const lumens = { kind: 'lumens', lumens: 2800, lumensPerUmolS: 70, lowest: 62, highest: 80 };
const outputs: LampOutput[] = [
  { kind: 'photons', fluxUmolS: 40 },
  { kind: 'watts', efficacyUmolJ: 2 },
  lumens as LampOutput,
];

// A lamp cut to a third is built of a third of the same LEDs.
it.each(
  outputs
    .flatMap((output) => [kind({ output }), kind({ output, emission })])
    .map((k) => [`${k.output.kind} ${k.emission.kind}`, k] as const),
)('a third of a lamp gives a third of its light and draws a third: %s', (_, whole) => {
  const third = { ...ofLength(whole, 400), id: 'k1' };
  const [before, after] = [photonFlux(whole), photonFlux(third)];
  expect(after.umolS).toBeCloseTo(before.umolS / 3, 9);
  expect(after.lowest).toBeCloseTo(before.lowest / 3, 9);
  expect(after.highest).toBeCloseTo(before.highest / 3, 9);
  expect(third).toMatchObject({ lengthMm: 400, emission: whole.emission });
  expect(third.powerW).toBeCloseTo(whole.powerW / 3, 9);
  // Three end to end are the whole lamp again, at any point beneath.
  const at = (k: LampKind, xs: number[]) => {
    const lamps = xs.map((xMm, i) => lamp({ id: `l${i}`, xMm, zMm: 400 }));
    const point = { xMm: 350, yMm: 200, zMm: 50 };
    return directAtPoints(readyLamps(shelf({ lamps }), [k]), [point])[0] ?? NaN;
  };
  expect(at(third, [200, 600, 1000]) / at(whole, [600])).toBeCloseTo(1, 4);
});
