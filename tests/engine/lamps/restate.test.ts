import { describe, expect, it } from 'vitest';
import type { LampKind, LampOutput } from '../../../shared-types/rack';
import {
  lightStamp,
  lumensNotices,
  photonFlux,
  restatedOutput,
} from '../../../renderer/engine/lamps';
import { applyCommand } from '../../../renderer/document/apply';
import { editLampKind, restateOutput } from '../../../renderer/document/commands';
import { emptyPlan } from '../../../renderer/document/new';
import { potLight } from '../../../renderer/engine/light';
import { kind, lamp, lightPlan, shelf, tray } from '../light/racks';

// 100 cd the same all over the lower half: 2π · 100 lm.
const lineOf = (perLamp: number, lamps = 1, candela = 100) =>
  [
    'IESNA:LM-63-2002',
    'TILT=NONE',
    `${lamps} ${perLamp} 1 3 1 1 2 0 0 0`,
    '1 1 20',
    '0 45 90',
    '0',
    `${candela} ${candela} ${candela}`,
  ].join('\n');
const INTEGRATED = 200 * Math.PI;
const file = (text: string): LampKind['emission'] => ({ kind: 'file', fileName: 'even.ies', text });
const lumens = (typed: number): LampOutput => ({
  kind: 'lumens',
  lumens: typed,
  lumensPerUmolS: 70,
  lowest: 62,
  highest: 76,
});
const ways = ['photons', 'watts', 'lumens'] as const;

const kinds: [string, LampKind][] = [
  ['photons', kind({ powerW: 33 })],
  ['watts', kind({ powerW: 33, output: { kind: 'watts', efficacyUmolJ: 2.77 } })],
  ['lumens', kind({ powerW: 33, output: lumens(2803) })],
  ['a file and photons', kind({ emission: file(lineOf(-1)) })],
  [
    'a file and watts',
    kind({ emission: file(lineOf(-1)), output: { kind: 'watts', efficacyUmolJ: 2 } }),
  ],
  ['a file and other lumens', kind({ emission: file(lineOf(-1)), output: lumens(5000) })],
];

/** A rack with one lamp of the kind, and its light at every pot. */
const rackOf = (one: LampKind) => ({
  lampKinds: [one],
  shelves: [shelf({ lamps: [lamp({ kindId: one.id })], trays: [tray()] })],
});
const ppfd = (one: LampKind) =>
  [...potLight(rackOf(one), lightPlan()).pots.values()].map((p) => p.ppfdUmol);

describe('to state the output in another way', () => {
  it.each(kinds)('from %s to any other and back leaves the light and the stamp', (_, from) => {
    const lit = ppfd(from);
    expect(Math.min(...lit)).toBeGreaterThan(0);
    for (const way of ways) {
      for (const next of ways) {
        const once = restatedOutput(from, way);
        if (!once.ok) throw new Error(once.reason);
        const twice = restatedOutput({ ...from, output: once.output }, next);
        if (!twice.ok) throw new Error(twice.reason);
        const there = { ...from, output: twice.output };
        ppfd(there).forEach((value, i) => expect(value / (lit[i] ?? NaN)).toBeCloseTo(1, 12));
        const shelfOf = (k: LampKind) => lightStamp(rackOf(k).shelves[0] ?? shelf(), [k]);
        expect(shelfOf(there)).toBe(shelfOf(from));
      }
    }
  });

  it('is refused where no figure can state it, and changes nothing', () => {
    const plan = { ...emptyPlan('restated'), nextId: 100, rack: rackOf(kind({ powerW: 0 })) };
    const refused = applyCommand(plan, restateOutput, { kindId: 'k1', as: 'watts' });
    expect(refused).toMatchObject({ ok: false });
    expect(refused.ok ? '' : refused.reason).toContain('its power is 0 W');
    // 40 µmol/s of 0.3 W are more than 100 µmol/J; of 0.5 W they are 80.
    const weak = { ...plan, rack: rackOf(kind({ powerW: 0.3 })) };
    expect(applyCommand(weak, restateOutput, { kindId: 'k1', as: 'watts' }).ok).toBe(false);
    const able = { ...plan, rack: rackOf(kind({ powerW: 0.5 })) };
    expect(applyCommand(able, restateOutput, { kindId: 'k1', as: 'watts' }).ok).toBe(true);
  });

  it('takes the range of white LEDs with the lumens', () => {
    // Thimijan & Heins 1983, HortScience 18:818–822: 74 lux per µmol m⁻² s⁻¹, cool-white tubes.
    const restated = restatedOutput(kind(), 'lumens');
    const output = restated.ok && restated.output.kind === 'lumens' ? restated.output : null;
    expect(output?.lumensPerUmolS).toBeCloseTo(70, 9);
    expect(output?.lowest).toBeLessThan(74);
    expect(output?.highest).toBeGreaterThan(74);
  });
});

describe('a photometric file and an output in lumens', () => {
  it('brings its own lumens when it comes, and they stay when it goes', () => {
    const flat = {
      ...emptyPlan('file'),
      nextId: 100,
      rack: rackOf(kind({ output: lumens(5000) })),
    };
    const came = applyCommand(flat, editLampKind, {
      kindId: 'k1',
      patch: { emission: file(lineOf(-1)) },
    });
    if (!came.ok) throw new Error(came.reason);
    const measured = came.plan.rack.lampKinds[0];
    expect(measured && photonFlux(measured).umolS).toBeCloseTo(INTEGRATED / 70, 9);
    const { plan } = came;
    const done = applyCommand(plan, editLampKind, {
      kindId: 'k1',
      patch: { emission: { kind: 'lambertian' } },
    });
    const left = done.ok ? done.plan.rack.lampKinds[0] : undefined;
    expect(left && photonFlux(left).umolS).toBeCloseTo(INTEGRATED / 70, 9);
  });

  it.each([
    ['typed 5 % less than summed', lumens(INTEGRATED * 0.955), -1, 0],
    ['typed 6 % less', lumens(INTEGRATED * 0.94), -1, 1],
    ['typed eight times as much', lumens(5000), -1, 1],
    ['photons, whatever was typed', { kind: 'photons', fluxUmolS: 40 } as const, -1, 0],
    ['bare lamps that give just more', lumens(INTEGRATED), 620, 0],
    ['bare lamps that give less than the fitting', lumens(INTEGRATED), 580, 1],
    ['a fitting that lets half out', lumens(INTEGRATED), 1250, 0],
    ['a fitting that lets less than half out', lumens(INTEGRATED), 1300, 1],
    ['all three apart', lumens(5000), 300, 2],
  ])('is told where figures disagree: %s', (_, output, stated, count) => {
    const found = lumensNotices(kind({ emission: file(lineOf(stated)), output }));
    expect(found).toHaveLength(count);
    for (const { kind: of, severity, text, remedy } of found) {
      expect([of, severity]).toEqual(['lamp-lumens-disagree', 'warn']);
      expect(text).toContain('628 lm');
      expect(remedy).not.toBe('');
    }
  });
});

describe('what a lamp kind keeps of a former shape', () => {
  const was = { lengthMm: 1200, widthMm: 300 };

  it('has no say in light or stamp; a strip has the light of its width, and no other stamp', () => {
    const spot = kind({ shape: 'spot', lengthMm: 0 });
    const once = { ...spot, ...was };
    expect(ppfd(once)).toEqual(ppfd(spot));
    const strip = kind({ shape: 'strip', lengthMm: 1200, widthMm: 0 });
    expect(ppfd({ ...strip, widthMm: 300 })).not.toEqual(ppfd(strip));
    const stampOf = (k: LampKind) => lightStamp(rackOf(k).shelves[0] ?? shelf(), [k]);
    expect(stampOf(once)).toBe(stampOf(spot));
    expect(stampOf({ ...strip, widthMm: 300 })).toBe(stampOf(strip));
    expect(stampOf({ ...strip, lengthMm: 1100 })).not.toBe(stampOf(strip));
  });
});
