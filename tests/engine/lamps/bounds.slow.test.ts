import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lampKindSchema, type LampKind } from '../../../shared-types/rack';
import { photonFlux, readPhotometry } from '../../../renderer/engine/lamps';
import { lightEnergy, lightNotices, potLight } from '../../../renderer/engine/light';
import { kind, lamp, lightPlan, shelf, tray } from '../light/racks';

/** Figures of a file by their places; every one can be put out of bounds alone. */
const figures = {
  lamps: '1',
  lumens: '1000',
  multiplier: '1',
  width: '0.1',
  length: '0.1',
  height: '0',
  ballast: '1',
  ballastLamp: '1',
  watts: '20',
  vertical: '0 45 90',
  horizontal: '0',
  candela: '100 80 60',
  tilt: 'TILT=NONE',
};
const fileOf = (change: Partial<typeof figures> = {}) => {
  const f = { ...figures, ...change };
  return [
    'IESNA:LM-63-2002',
    f.tilt,
    `${f.lamps} ${f.lumens} ${f.multiplier} ${f.vertical.split(' ').length} 1 1 2 ${f.width} ${f.length} ${f.height}`,
    `${f.ballast} ${f.ballastLamp} ${f.watts}`,
    f.vertical,
    f.horizontal,
    f.candela,
  ].join('\n');
};
const rackWith = (one: LampKind) => ({
  lampKinds: [one],
  shelves: [
    shelf({
      lamps: [lamp()],
      trays: [tray()],
      reflectances: { above: 0.8, canopy: 0.2, front: 0.5, back: 0, left: 0, right: 0 },
    }),
  ],
});
const withFile = (text: string, change: Partial<LampKind> = {}) =>
  kind({ emission: { kind: 'file', fileName: 'lamp.ies', text }, ...change });

describe('figures of a photometric file', () => {
  it.each([
    ['candela', { candela: '100 1e307 60' }, 7, 'impossible candela', '1e+307', '0 to 1000000000'],
    [
      'candela by its factor',
      { multiplier: '1e6', candela: '100 1e4 60' },
      7,
      'candela times its factors',
      '10000000000',
      '0 to 1000000000',
    ],
    [
      'multiplier',
      { multiplier: '1e300' },
      3,
      'candela multiplier',
      '1e+300',
      '0.000001 to 1000000',
    ],
    [
      'multiplier of next to nothing',
      { multiplier: '1e-300' },
      3,
      'candela multiplier',
      '1e-300',
      '0.000001 to 1000000',
    ],
    ['lumens', { lumens: '1e300' }, 3, 'lumens per lamp', '1e+300', 'or -1'],
    ['width', { width: '1e300' }, 3, 'width of the opening', '1e+300', '-100 to 100'],
    ['ballast', { ballast: '1e300' }, 4, 'ballast factor', '1e+300', '1000000'],
    ['ballast lamp', { ballastLamp: '1e300' }, 4, 'ballast-lamp factor', '1e+300', '1000000'],
    ['watts', { watts: '1e300' }, 4, 'input watts', '1e+300', '0 to 1000000'],
    ['angles that are one', { vertical: '0 1e-200 90' }, 5, 'too close', '1e-200 after 0', '0.001'],
    [
      'all candela together',
      { candela: '1e8 1e8 1e8' },
      7,
      'lumens of all candela',
      '628318530',
      '10000000',
    ],
    [
      'tilt',
      { tilt: 'TILT=INCLUDE\n1\n2\n0 90\n1 1e300' },
      6,
      'tilt multiplier',
      '1e+300',
      '0 to 1000',
    ],
  ])(
    'out of bounds name line, found and expected: %s',
    (_, change, line, reason, found, expected) => {
      const answer = readPhotometry(fileOf(change));
      if (answer.ok) throw new Error('was taken');
      expect(answer.line).toBe(line);
      expect(answer.reason).toContain(reason);
      expect(answer.found).toContain(found);
      expect(answer.expected).toContain(expected);
      // The rack that carries it says so, and nothing throws.
      const rack = rackWith(withFile(fileOf(change)));
      const kinds = lightNotices({ rack, light: lightPlan() }).map((notice) => notice.kind);
      expect(kinds).toContain('lamp-file-broken');
      expect(potLight(rack, lightPlan()).problems.size).toBe(1);
      expect(lightEnergy(rack, lightPlan(), 30).shelves[0]?.fluxUmolS).toBeNull();
    },
  );

  it.each([
    ['the brightest candela', { candela: '0 1e6 0' }],
    ['close angles', { vertical: '0 0.001 90' }],
    ['a large factor', { multiplier: '1e6', candela: '0.001 0.001 0.001' }],
    ['a small factor', { multiplier: '1e-6', candela: '1e6 1e6 1e6' }],
  ])('at their bounds are taken, with finite light: %s', (_, change) => {
    const one = withFile(fileOf(change));
    const { problems, pots } = potLight(rackWith(one), lightPlan());
    expect([...problems]).toEqual([]);
    for (const { ppfdUmol } of pots.values()) expect(Number.isFinite(ppfdUmol)).toBe(true);
  });
});

describe('figures of a lamp kind', () => {
  const least = 1e-6;
  it.each([
    [
      {
        output: { kind: 'lumens', lumens: 1e7, lumensPerUmolS: 1e-300, lowest: 1e-300, highest: 1 },
      },
    ],
    [{ output: { kind: 'photons', fluxUmolS: 1e300 } }],
    [{ output: { kind: 'watts', efficacyUmolJ: 1e300 } }],
    [{ emission: { kind: 'beam', fullAngleDeg: 1e-200 } }],
    [{ emission: { kind: 'beam', fullAngleDeg: 179.9999999999 } }],
    [{ powerW: 1e300 }],
    [{ lengthMm: 1e300 }],
  ])('beyond every lamp are refused: %j', (change) => {
    expect(lampKindSchema.safeParse({ ...kind(), ...change }).success).toBe(false);
  });

  it('within the bounds give finite light, whatever they are', () => {
    const positive = (most: number) => fc.constantFrom(least, 1, most / 7, most);
    const outputs: fc.Arbitrary<LampKind['output']> = fc.oneof(
      positive(100_000).map((fluxUmolS) => ({ kind: 'photons' as const, fluxUmolS })),
      positive(100).map((efficacyUmolJ) => ({ kind: 'watts' as const, efficacyUmolJ })),
      fc.tuple(positive(10_000_000), fc.constantFrom(0.01, 70, 1000)).map(([lumens, factor]) => ({
        kind: 'lumens' as const,
        lumens,
        lumensPerUmolS: factor,
        lowest: factor,
        highest: factor,
      })),
    );
    const emissions: fc.Arbitrary<LampKind['emission']> = fc.oneof(
      fc.constant({ kind: 'lambertian' as const }),
      fc
        .constantFrom(1, 60, 120, 179)
        .map((fullAngleDeg) => ({ kind: 'beam' as const, fullAngleDeg })),
    );
    const lengths = fc.constantFrom(0, 5e-324, 1e-9, 1200, 20_000);
    const kinds = fc.record({
      shape: fc.constantFrom('strip' as const, 'panel' as const, 'spot' as const),
      lengthMm: lengths,
      widthMm: lengths,
      emission: emissions,
      output: outputs,
      powerW: fc.constantFrom(0, 5e-324, 20, 20_000),
    });
    fc.assert(
      fc.property(kinds, fc.constantFrom(5e-324, 1e-150, 300), (change, zMm) => {
        const one = kind(change);
        expect(lampKindSchema.safeParse(one).success).toBe(true);
        expect(Number.isFinite(photonFlux(one).highest)).toBe(true);
        const [only] = rackWith(one).shelves;
        const lamps = [lamp({ zMm, xMm: 100, yMm: 100 })];
        const light = potLight(
          { lampKinds: [one], shelves: only ? [{ ...only, lamps }] : [] },
          lightPlan(),
        );
        // A lamp in the canopy may have no light that can be told; then it says so.
        for (const problem of light.problems.values())
          expect(problem('metric')).toContain('expected');
        for (const { ppfdUmol } of light.pots.values())
          expect(Number.isFinite(ppfdUmol)).toBe(true);
        for (const { evenness } of light.shelves.values()) {
          for (const figure of Object.values(evenness ?? {})) {
            if (typeof figure === 'number') expect(Number.isFinite(figure)).toBe(true);
          }
        }
      }),
      { numRuns: 30, seed: 13 },
    );
  });
});
