import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { directAtPoints, readyLamps } from '../../../renderer/engine/light/sources/direct';
import {
  lampFlux,
  photonFlux,
  readPhotometry,
  type Photometry,
} from '../../../renderer/engine/lamps';
import type { LampKind } from '../../../shared-types/rack';
import { kind, lamp, shelf } from '../light/racks';

// Rules, worked example and check values: tests/reference/trade-facts.md, section 3.

const EXAMPLE = `IESNA:LM-63-2002
[TEST] EXAMPLE 1
[TESTLAB] invented numbers
[ISSUEDATE] none
[MANUFAC] none
TILT=NONE
1 -1 1 7 3 1 2 0.05 1.2 0
1 1 20
0 15 30 45 60 75 90
0 45 90
410 400 365 300 205 95 0
410 392 350 280 185 82 0
410 385 335 262 168 70 0
`;

function understood(text: string): Photometry {
  const answer = readPhotometry(text);
  if (!answer.ok) throw new Error(`line ${answer.line}: ${answer.reason}, ${answer.found}`);
  return answer.photometry;
}

function refused(text: string) {
  const answer = readPhotometry(text);
  if (answer.ok) throw new Error('the file was read');
  return answer;
}

/** I = peak · cos γ every `step` degrees, rotational. */
function cosineFile(step: number, peak = 1000, edition = 'IESNA:LM-63-1995'): string {
  const angles = Array.from({ length: 90 / step + 1 }, (_, i) => i * step);
  const candela = angles.map((a) => Math.max(0, peak * Math.cos((a * Math.PI) / 180)).toFixed(9));
  return [
    edition,
    'TILT=NONE',
    `1 3200 1 ${angles.length} 1 1 2 0 0 0 1 1 25`,
    angles.join(' '),
    '0',
    candela.join('\n'),
  ].join('\n');
}

const onePlane = (row: number) => {
  const lines = EXAMPLE.trim().split('\n');
  const kept = [...lines.slice(0, 9), '0', lines[10 + row] ?? ''].join('\n');
  return kept.replace('1 -1 1 7 3 1', '1 -1 1 7 1 1');
};

const withFile = (text: string, change: Partial<LampKind> = {}) =>
  kind({ emission: { kind: 'file', fileName: 'lamp.ies', text }, ...change });
const at = (k: LampKind, tilt: number, x: number, y: number, h: number) =>
  directAtPoints(
    readyLamps(shelf({ lamps: [lamp({ xMm: 0, yMm: 0, zMm: 2000, tiltDeg: tilt })] }), [k]),
    [{ xMm: x, yMm: y, zMm: 2000 - h }],
  )[0] ?? NaN;

describe('a photometric file', () => {
  it('is read whole', () => {
    const file = understood(EXAMPLE);
    expect(file).toMatchObject({
      edition: 2002,
      absolute: true,
      statedLumens: null,
      inputWatts: 20,
      symmetry: 'quadrants',
      opening: { widthM: 0.05, lengthM: 1.2, heightM: 0 },
    });
    expect(file.keywords[0]).toEqual({ name: 'TEST', text: 'EXAMPLE 1' });
  });

  it('is integrated linear in the vertical, by trapezium in the horizontal', () => {
    expect(understood(EXAMPLE).integratedLumens).toBeCloseTo(1199.041447, 6);
    [1284.550133, 1196.900076, 1117.815504].forEach((lumens, row) => {
      expect(understood(onePlane(row)).integratedLumens).toBeCloseTo(lumens, 6);
    });
  });

  it('of a cosine, 10° and 5° steps', () => {
    expect(understood(cosineFile(10)).integratedLumens).toBeCloseTo(3133.59342, 5);
    expect(understood(cosineFile(5)).integratedLumens).toBeCloseTo(3139.597418, 5);
    // Ever finer steps approach the exact 1000 π.
    expect(Math.abs(understood(cosineFile(0.125)).integratedLumens / 3141.592654 - 1)).toBeLessThan(
      1e-6,
    );
  });

  it('is interpolated in both angles, by quadrants', () => {
    const file = understood(EXAMPLE);
    for (const c of [22.5, 157.5, 202.5, 337.5, -22.5, 382.5]) {
      expect(file.intensity(37.5, c)).toBeCloseTo(323.75, 9);
    }
    expect(file.intensity(0, 123)).toBeCloseTo(410, 12);
    expect(file.intensity(90, 0)).toBe(0);
    expect(file.intensity(120, 0)).toBe(0);
  });

  it.each([
    ['0 90 180', 'mirror-0-180', 200, 160],
    ['0 180 360', 'none', -160, 200],
    ['90 180 270', 'mirror-90-270', 80, 100],
  ])('horizontal angles %s', (angles, symmetry, c, standsFor) => {
    const rows = ['100 50 0', '200 80 0', '300 10 0'];
    const file = understood(
      ['IESNA91', 'TILT=NONE', '1 1000 1 3 3 1 2 0 0 0 1 1 9', '0 45 90', angles, ...rows].join(
        '\n',
      ),
    );
    expect(file.symmetry).toBe(symmetry);
    expect(file.intensity(30, c)).toBeCloseTo(file.intensity(30, standsFor), 12);
  });

  it('of a full sphere keeps its light upwards', () => {
    const file = understood(
      ['IESNA91', 'TILT=NONE', '1 1000 1 3 1 1 2 0 0 0 1 1 9', '0 90 180', '0', '100 100 100'].join(
        '\n',
      ),
    );
    // An even sphere: 4π times its intensity.
    expect(file.integratedLumens).toBeCloseTo(400 * Math.PI, 9);
    expect(file.intensity(170, 0)).toBeCloseTo(100, 12);
  });

  it('candela are multiplied by multiplier and ballast factor, by ballast-lamp factor when old', () => {
    const of = (edition: string) =>
      [edition, 'TILT=NONE', '2 1000 2 2 1 1 1 1 2 0 0.5 0.9 9', '0 90', '0', '100 0'].join('\n');
    expect(understood(of('IESNA:LM-63-1995')).intensity(0, 0)).toBeCloseTo(90, 12);
    expect(understood(of('IES:LM-63-2019')).intensity(0, 0)).toBeCloseTo(100, 12);
    expect(understood(of('IESNA91')).statedLumens).toBe(2000);
    // 1 and 2 feet.
    expect(understood(of('IESNA91')).opening.lengthM).toBeCloseTo(0.6096, 12);
  });

  it('of 1986 has free text; of an unknown edition a warning', () => {
    const body = ['TILT=NONE', '1,1000,1,2,1,1,2,0,0,0,1,1,9', '0,90', '0', '100', '0'];
    const old = ['some lamp', 'made by someone', ...body].join('\r\n');
    expect(understood(old).edition).toBe(1986);
    const strange = readPhotometry(['IES:LM-63-2031', ...body].join('\n'));
    expect(strange.ok && strange.warnings[0]).toContain('IES:LM-63-2031');
    const more = understood(['IESNA91', '[LAMP] a', '[MORE] b', '[ZZZ] c', ...body].join('\n'));
    expect(more.keywords[0]?.text).toBe('a\nb');
  });

  it('with an included tilt table', () => {
    const file = understood(
      EXAMPLE.replace('TILT=NONE', 'TILT=INCLUDE\n1\n3\n0 45 90\n1 0.95 0.9'),
    );
    expect([...(file.tilt?.multipliers ?? [])]).toEqual([1, 0.95, 0.9]);
    expect(file.integratedLumens).toBeCloseTo(1199.041447, 6);
  });
});

describe('a tilt table in the file', () => {
  // LM-63: the candela are multiplied by the factor of the angle at which the luminaire is tipped.
  // The standard's text was not at hand; its rule is taken from descriptions of it.
  const table = EXAMPLE.replace('TILT=NONE', 'TILT=INCLUDE\n1\n3\n0 45 90\n1 0.95 0.8');
  const tipped = (tiltDeg: number) =>
    lampFlux(withFile(table, {}), { dimming: 1, tiltDeg }).umolS / 40;

  it.each([
    [0, 1],
    [45, 0.95],
    [22.5, 0.975],
    [-22.5, 0.975],
    [60, 0.9],
    [337.5, 0.975],
    [180, 0.8],
  ])('a lamp tipped by %f° gives %f of its light', (tiltDeg, share) => {
    expect(tipped(tiltDeg)).toBeCloseTo(share, 12);
  });

  it('acts on the light at a point, and a file without one does not', () => {
    const spot = { shape: 'spot', lengthMm: 0 } as const;
    const ratio = (text: string) =>
      at(withFile(text, spot), 45, 0, 0, 500) / at(withFile(EXAMPLE, spot), 45, 0, 0, 500);
    expect(ratio(table)).toBeCloseTo(0.95, 12);
    expect(lampFlux(withFile(EXAMPLE, spot), { dimming: 1, tiltDeg: 45 }).umolS).toBe(40);
  });

  it('has rising angles', () => {
    expect(refused(table.replace('0 45 90\n1', '0 45 45\n1')).reason).toContain('do not rise');
  });
});

describe('decimal commas', () => {
  const commas = cosineFile(10).replace('1 1 25', '1,0 1,0 25,5');
  const all = EXAMPLE.replace(/(?<=TILT=NONE[^]*)\./g, ',');

  it.each([
    ['in one line', commas, 3, '“1,0”', 'decimal points: 1.0'],
    ['throughout', all, 7, '“0,05”', 'decimal points: 0.05'],
  ])('%s are named as such', (_, text, line, found, expected) => {
    expect(refused(text)).toMatchObject({ line, reason: 'decimal commas', found, expected });
  });

  it('are not where commas part the numbers, as the standard allows', () => {
    const parted = cosineFile(10).split('\n');
    parted[2] = (parted[2] ?? '').replaceAll(' ', ',');
    expect(understood(parted.join('\n')).inputWatts).toBe(25);
    parted[2] = (parted[2] ?? '').replace(',25', ',x');
    expect(refused(parted.join('\n')).reason).toBe('not a number');
  });
});

describe('a photometric file is refused, with line, found and expected', () => {
  const swap = (from: string, to: string) => refused(EXAMPLE.replace(from, to));
  it.each([
    ['TILT=NONE', 'TILT=lamp.tlt', 6, 'another file'],
    ['TILT=NONE', '', 14, 'no TILT line'],
    ['1 -1 1 7 3 1 2', '1 -1 1 7 3 2 2', 7, 'type not supported'],
    ['1 -1 1 7 3 1 2', '1 -1 1 7 3 3 2', 7, 'type not supported'],
    ['1 -1 1 7 3 1 2', '1 -1 0 7 3 1 2', 7, 'candela multiplier'],
    ['1 -1 1 7 3 1 2', '1 -1 1 0 3 1 2', 7, 'count of vertical angles'],
    ['1 -1 1 7 3 1 2', '1 -1 1 7 722 1 2', 7, 'count of horizontal angles'],
    ['1 -1 1 7 3 1 2', '1 -2 1 7 3 1 2', 7, 'lumens per lamp'],
    ['0 15 30 45', '0 30 15 45', 9, 'do not rise'],
    ['0 15 30 45 60 75 90', '0 15 30 45 60 75 80', 9, 'range of vertical'],
    ['0 45 90\n410', '0 45 80\n410', 10, 'range of horizontal'],
    ['168 70 0', '168 70', 13, 'ends too early'],
    ['168 70 0', '168 70 0 5', 13, 'left-over'],
    ['410 385', '410 NaN', 13, 'not a number'],
    ['410 385', '410 3x5', 13, 'not a number'],
    ['410 385', '410 -385', 13, 'negative candela'],
  ])('%j as %j', (from, to, line, reason) => {
    const answer = swap(from, to);
    expect(answer.line).toBe(line);
    expect(answer.reason).toContain(reason);
    expect(answer.found).not.toBe('');
    expect(answer.expected).not.toBe('');
  });

  it('darkness, nothing, and something else altogether', () => {
    expect(refused(cosineFile(45, 0)).reason).toContain('no light');
    expect(refused('').reason).toContain('no TILT line');
    expect(refused('{"a": 1}').expected).toBe('TILT=NONE');
  });
});

describe('a damaged file', () => {
  it('is refused by its length, before it is taken apart', () => {
    const long = EXAMPLE + ' '.repeat(10_000_000 - EXAMPLE.length);
    expect(readPhotometry(long).ok).toBe(true);
    expect(readPhotometry(`${long} `)).toEqual({
      ok: false,
      line: 1,
      reason: 'too long',
      found: '11 million signs',
      expected: 'at most 10 million',
    });
  });

  it('is answered, never thrown at: read, or refused with line, reason, found and expected', () => {
    const lines = EXAMPLE.split('\n').length;
    fc.assert(
      fc.property(
        fc.nat(EXAMPLE.length),
        fc.nat(12),
        fc.string({ maxLength: 6 }),
        (at, removed, put) => {
          const text = EXAMPLE.slice(0, at) + put + EXAMPLE.slice(at + removed);
          const answer = readPhotometry(text);
          if (answer.ok) return answer.photometry.integratedLumens > 0;
          const named = answer.reason !== '' && answer.found !== '' && answer.expected !== '';
          return named && answer.line >= 1 && answer.line <= lines + 6;
        },
      ),
      { numRuns: 2000, seed: 63 },
    );
  });
});

describe('a lamp with a photometric file', () => {
  it.each(['strip', 'panel', 'spot'] as const)('of a fine cosine is a Lambertian %s', (shape) => {
    const file = withFile(cosineFile(0.5), { shape, widthMm: 150 });
    const flat = kind({ shape, widthMm: 150 });
    for (const tilt of [0, 30]) {
      for (const [x, y, h] of [
        [0, 0, 300],
        [500, 200, 300],
        [100, 300, 60],
        [900, -100, 500],
      ] as const) {
        const expected = at(flat, tilt, x, y, h);
        expect(Math.abs(at(file, tilt, x, y, h) / expected - 1)).toBeLessThan(2e-4);
      }
    }
  });

  it('takes its photons as stated: typed lumens scale its curve', () => {
    const output = {
      kind: 'lumens',
      lumens: 5000,
      lumensPerUmolS: 70,
      lowest: 65,
      highest: 74,
    } as const;
    const lumens = withFile(EXAMPLE, { output });
    expect(photonFlux(lumens).umolS).toBeCloseTo(5000 / 70, 9);
    // Candela ÷ lumens per µmol ÷ h², as far below as makes the strip a point.
    const spot = { ...lumens, shape: 'spot' as const };
    expect(at(spot, 0, 0, 0, 1000)).toBeCloseTo((410 * (5000 / 1199.041447)) / 70, 6);
    const own = { ...spot, output: { ...output, lumens: 1199.041447 } };
    expect(at(own, 0, 0, 0, 1000)).toBeCloseTo(410 / 70, 6);
    const stated = withFile(EXAMPLE, { shape: 'spot' });
    expect(at(stated, 0, 0, 0, 1000)).toBeCloseTo((40 * 410) / 1199.041447, 7);
  });

  it('has its horizontal angle 0 along its length, 90 across', () => {
    const spot = withFile(EXAMPLE, { shape: 'spot' });
    const flux = 40 / 1199.041447;
    // 45° off the axis at 1 m below: r = √2, incidence 45°.
    const seen = (candela: number) => (flux * candela * Math.SQRT1_2) / 2;
    expect(at(spot, 0, 1000, 0, 1000)).toBeCloseTo(seen(300), 7);
    expect(at(spot, 0, 0, 1000, 1000)).toBeCloseTo(seen(262), 7);
  });

  it('that cannot be used names file, line, found and expected', () => {
    const broken = withFile(EXAMPLE.replace('410 385', '410 -385'));
    expect(() => at(broken, 0, 0, 0, 300)).toThrow(
      'lamp kind strip 120: lamp.ies, line 13: negative candela; found -385; expected 0 or more',
    );
  });
});
