import { describe, expect, it } from 'vitest';
import { lightEnergyOf, lightOverTrialOf, potLightOf } from '../../../renderer/derive';
import { emptyPlan } from '../../../renderer/document/new';
import { newTrial } from '../../../renderer/document/newTrial';
import { keptShare, lampFlux, lightStamp } from '../../../renderer/engine/lamps';
import type { Plan } from '../../../shared-types/plan';
import { kind, lamp, lightPlan, shelf, tray } from './racks';

// Off 4 % in each 1,000 h: 96 % after 1,000 h, 0.96² after 2,000 h (the exponential of IES TM-21).
const ageing = kind({ lossPer1000h: 0.04 });

/** A strip that burns 20 h a day over a trial of 50 days: 1,000 h; read or not. */
function plan(change: Partial<Plan['light']> = {}, burntHours?: number): Plan {
  const strip = lamp({ id: 'l1', ...(burntHours === undefined ? {} : { burntHours }) });
  const site = shelf({ lamps: [strip], trays: [tray()] });
  const base = emptyPlan('ageing');
  const trial = { ...newTrial({ start: 'm1', harvest: 'm2' }, ''), startDate: '2026-03-01' };
  return {
    ...base,
    rack: { shelves: [site], lampKinds: [ageing] },
    light: lightPlan({ photoperiodHours: 20, ...change }),
    trial: { ...trial, harvestDate: '2026-04-20' },
  };
}

const ppfd = (of: Plan) => potLightOf(of).pots.get('t1:2:3')?.ppfdUmol ?? NaN;

describe('lamps that lose light as they burn', () => {
  it('keep a share by the hours burnt; their power stays', () => {
    expect(keptShare(ageing, 1000)).toBeCloseTo(0.96, 12);
    expect(keptShare(ageing, 2500)).toBeCloseTo(0.96 ** 2.5, 12);
    expect(keptShare(kind(), 5000)).toBe(1);
    const of = (burntHours?: number) =>
      lampFlux(ageing, { dimming: 1, tiltDeg: 0, ...(burntHours ? { burntHours } : {}) }).umolS;
    expect([of(), of(1000)]).toEqual([40, expect.closeTo(38.4, 12)]);
    const energy = lightEnergyOf(plan({}, 3000), 1);
    expect(energy.ok && energy.value.kwhPerDay).toBeCloseTo(0.4, 12);
  });

  it('at planting give what their hours then left, at harvest what the trial leaves', () => {
    const fresh = ppfd(plan({ canopyAt: 'planting' }));
    for (const [canopyAt, hours] of [
      ['planting', 0],
      ['midway', 500],
      ['harvest', 1000],
    ] as const) {
      expect(ppfd(plan({ canopyAt })) / fresh).toBeCloseTo(0.96 ** (hours / 1000), 9);
      expect(ppfd(plan({ canopyAt }, 2000)) / fresh).toBeCloseTo(0.96 ** (2 + hours / 1000), 9);
    }
  });

  it('over the trial give the mean of its days', () => {
    const rota = [{ fromDay: 1, toDay: 5, places: {} }];
    const found = lightOverTrialOf(plan({ rota }));
    const fresh = ppfd(plan({ canopyAt: 'planting' }));
    // Mean of 0.96^x for x from 0 to 1: (0.96 − 1) / ln 0.96.
    const mean = (0.96 - 1) / Math.log(0.96);
    const got = found?.ok ? found.value.pots.get('t1:2:3')?.ppfdUmol : NaN;
    expect(Math.abs((got ?? NaN) / fresh / mean - 1)).toBeLessThan(1e-4);
  });

  it('age in the shelf beside as well', () => {
    const facing = { kind: 'shelf', shelfId: 's2', gapMm: 50 } as const;
    const kinds = [kind(), kind({ id: 'k2', lossPer1000h: 0.04 })];
    const beside = (canopyAt: Plan['light']['canopyAt'], k2 = kinds[1], dimming = 1) => {
      const base = plan({ canopyAt });
      const own = shelf({
        lamps: [lamp({ id: 'l1', dimming: 0.1 })],
        trays: [tray()],
        faces: { right: facing },
      });
      const other = shelf({
        id: 's2',
        number: 2,
        lamps: [lamp({ id: 'l2', kindId: 'k2', dimming })],
      });
      return ppfd({
        ...base,
        rack: { shelves: [own, other], lampKinds: [kinds[0], k2].flatMap((one) => one ?? []) },
      });
    };
    const alone = beside('planting', kinds[1], 0);
    const fresh = beside('planting') - alone;
    expect(fresh / alone).toBeGreaterThan(0.01);
    expect((beside('harvest') - alone) / fresh).toBeCloseTo(0.96, 9);
    expect(beside('harvest', kind({ id: 'k2' }))).toBeCloseTo(fresh + alone, 9);
  });

  it('are read as they are when the trial begins, and lose from there', () => {
    const at = {
      id: 'r',
      shelfId: 's1',
      yMm: 300,
      zMm: 0,
      unit: 'ppfd',
      luxPerPpfd: null,
    } as const;
    const bare = plan({ canopyAt: 'planting' });
    const readings = [100, 300, 500, 700, 900, 1100].map((xMm, i) => ({
      ...at,
      id: `r${i}`,
      xMm,
      date: null,
      note: '',
      value: 100,
    }));
    const read = (canopyAt: 'planting' | 'harvest') => ppfd(plan({ canopyAt, readings }));
    expect(read('harvest') / read('planting')).toBeCloseTo(0.96, 9);
    // The stamp of readings is of what hangs there, not of its age.
    const [own] = bare.rack.shelves;
    const [aged] = plan({}, 5000).rack.shelves;
    expect(own && aged && lightStamp(own, [ageing]) === lightStamp(aged, [kind()])).toBe(true);
  });

  it('without dates are as worn as when the trial begins; without a loss nothing changes', () => {
    const undated = { ...plan({ canopyAt: 'harvest' }), trial: null };
    expect(ppfd(undated)).toBe(ppfd(plan({ canopyAt: 'planting' })));
    const lasting = plan({ canopyAt: 'harvest' }, 9000);
    const rack = { ...lasting.rack, lampKinds: [kind()] };
    expect(ppfd({ ...lasting, rack })).toBe(ppfd(undated));
  });
});
