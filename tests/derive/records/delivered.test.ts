import { describe, expect, it } from 'vitest';
import {
  deliveredLogOf,
  deliveredNotices,
  deliveredSettingOf,
  potLightOf,
} from '../../../renderer/derive';
import { logDelivered, removeDelivered } from '../../../renderer/document/commands';
import { deliveredUnits } from '../../../renderer/document/queries';
import { comparePlans } from '../../../renderer/document/compare';
import { newFlood } from '../../../renderer/document/new';
import { readPlan, writePlan } from '../../../renderer/document/open';
import { html } from '../../../renderer/print/html';
import { deliveredHtml } from '../../../renderer/print/report/sections/delivered';
import type { DeliveredFigures } from '../../../shared-types/delivered';
import type { Plan } from '../../../shared-types/plan';
import type { LevelSettings } from '../../../shared-types/trial/trial';
import { refusal, run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';

/** The sample, its factor of shelves given by water: a reservoir a tray, at 2.0 and 1.0 mS/cm. */
function watered(ecs: readonly (number | null)[] = [2, 1]): Plan {
  const plan = drawnPlan('2026-03-02');
  const flood = newFlood('z20', plan.rack);
  const zones = ['t1', 't2'].flatMap((trayId, i) =>
    flood.zones.map((zone) => ({
      ...zone,
      id: `z2${i}`,
      name: `Tank ${i + 1}`,
      trayIds: [trayId],
    })),
  );
  const settingsOf = (ec: number | null | undefined): { settings?: LevelSettings } =>
    ec === null || ec === undefined ? {} : { settings: { through: 'water', ecMsCm: ec } };
  const factors = plan.trial?.factors.map((factor) =>
    factor.id === 'f1'
      ? {
          ...factor,
          name: 'feed',
          unit: 'zone' as const,
          appliedThrough: 'water' as const,
          levels: factor.levels.map((level, i) => ({ ...level, ...settingsOf(ecs[i]) })),
        }
      : { ...factor, appliedThrough: 'plant' as const },
  );
  return {
    ...plan,
    nextId: 30,
    flood: { ...flood, zones },
    trial: plan.trial && { ...plan.trial, factors: factors ?? [] },
  };
}

const days = ['2026-03-05', '2026-03-06', '2026-03-07'];
const logged = (plan: Plan, unitId: string, of: readonly DeliveredFigures[]): Plan =>
  run(plan, logDelivered, {
    entries: of.map((figures, i) => ({ unitId, date: days[i] ?? '', figures })),
  });
const thrice = (figures: DeliveredFigures) => days.map(() => figures);
const told = (plan: Plan) => deliveredNotices(plan).map(({ kind, about }) => [kind, ...about]);

describe('the log of what was delivered', () => {
  it('takes, changes and removes the figures of a unit and day', () => {
    const plan = watered();
    const first = logged(plan, 'z20', [{ ec: 1.9, ph: 6 }]);
    const changed = run(first, logDelivered, {
      entries: [{ unitId: 'z20', date: '2026-03-05', figures: { ec: 2.1, ph: null } }],
    });
    expect(changed.records.delivered).toEqual({ z20: { '2026-03-05': { ec: 2.1 } } });
    const removed = run(changed, removeDelivered, { unitId: 'z20', date: '2026-03-05' });
    expect(removed.records).toEqual(plan.records);
    const emptied = run(changed, logDelivered, {
      entries: [{ unitId: 'z20', date: '2026-03-05', figures: { ec: null } }],
    });
    expect(emptied.records).toEqual(plan.records);
  });

  it('refuses a unit that is not there, a day that is none and a figure out of bounds', () => {
    const of = (unitId: string, date: string, figures: DeliveredFigures) =>
      refusal(watered(), logDelivered, { entries: [{ unitId, date, figures }] });
    expect(of('z99', '2026-03-05', { ec: 2 })).toContain('z99');
    expect(of('z20', '2026-02-30', { ec: 2 })).not.toBe('done');
    expect(of('z20', '2026-03-05', { ph: 14.1 })).toContain('found 14.1');
    expect(of('z20', '2026-03-05', { ph: 14 })).toBe('done');
    expect(of('b1', '2026-03-05', { hours: 24.1 })).not.toBe('done');
    expect(of('b1', '2026-03-05', { hours: 24, ppfd: 5000, temperature: -20 })).toBe('done');
  });

  it('goes with the file, keeps ids of units that went and is told where two files differ', () => {
    const plan = logged(watered(), 'z20', [{ ec: 1.9, ph: 6 }]);
    const read = readPlan(writePlan(plan));
    expect(read.ok && read.plan.records).toEqual(plan.records);
    const gone = { ...plan, nextId: 20, flood: null };
    expect(readPlan(writePlan(gone)).ok).toBe(false);
    expect(comparePlans(plan, watered())).toContainEqual({
      part: 'Records',
      mine: '1 day of a unit logged',
      theirs: 'empty',
    });
  });

  it('knows reservoirs, shelves and trays, and what the plan sets for them', () => {
    const plan = watered();
    expect(deliveredUnits(plan).map(({ name }) => name)).toEqual([
      'Tank 1',
      'Tank 2',
      'shelf 1',
      'shelf 2',
      'tray 1A',
      'tray 2A',
    ]);
    const settingOf = (id: string, measure: 'ec' | 'ph' | 'hours' | 'ppfd') =>
      deliveredSettingOf(plan, id, measure)?.value;
    expect(['z20', 'z21', 't1', 't2'].map((id) => settingOf(id, 'ec'))).toEqual([2, 1, 2, 1]);
    const [bay] = deliveredUnits(plan).filter(({ kind }) => kind === 'bay');
    expect(settingOf(bay?.id ?? '', 'hours')).toBe(plan.light.photoperiodHours);
    expect(settingOf('t1', 'ppfd')).toBe(potLightOf(plan).trays.get('t1')?.evenness?.mean);
    expect(settingOf('z20', 'ph')).toBeUndefined();
  });

  it('costs no look at the plan where nothing was logged', () => {
    expect(deliveredLogOf(watered()).series).toEqual([]);
    expect(deliveredNotices(watered())).toEqual([]);
  });
});

it('stands in the report with its curve, and a drift with it', () => {
  const off = logged(watered(), 'z20', thrice({ ec: 1.6 }));
  const { markup } = html`${deliveredHtml(off)}`;
  expect(markup).toContain('EC 1.60 mS/cm on average, planned 2.00 mS/cm');
  expect(markup).toContain('EC as delivered, by unit.');
  expect(html`${deliveredHtml(watered())}`.markup).toBe('');
});

describe('drift is told', () => {
  it('away from the setting: three days off, and not two or a tenth', () => {
    const off = logged(watered(), 'z20', thrice({ ec: 1.6 }));
    expect(told(off)).toEqual([['delivered-off-setting', 'zone:z20']]);
    const [notice] = deliveredNotices(off);
    expect(notice?.text).toContain(
      'Tank 1: EC 1.60 mS/cm on average, planned 2.00 mS/cm (3 logged days in a row, 2026-03-05 to 2026-03-07).',
    );
    expect(told(logged(watered(), 'z20', [{ ec: 1.6 }, { ec: 1.6 }, { ec: 2 }]))).toEqual([]);
    expect(told(logged(watered(), 'z20', thrice({ ec: 1.8 })))).toEqual([]);
  });

  it('says no setting while treatments are blinded', () => {
    const off = logged(watered(), 'z20', thrice({ ec: 1.6 }));
    const blinded = { ...off, records: { ...off.records, blinded: { since: '2026-03-01' } } };
    const [notice] = deliveredNotices(blinded);
    expect(notice?.text).toContain('EC away from its setting');
    expect(notice?.text).not.toMatch(/2\.00|1\.60/);
  });

  it('between levels in what they do not set, and not in what they do', () => {
    const fed = logged(logged(watered(), 'z20', thrice({ ec: 2 })), 'z21', thrice({ ec: 1 }));
    expect(told(fed)).toEqual([]);
    const acid = logged(logged(watered(), 'z20', thrice({ ph: 6.4 })), 'z21', thrice({ ph: 5.9 }));
    expect(told(acid)).toEqual([['delivered-uneven', 'zone:z20', 'zone:z21']]);
    expect(deliveredNotices(acid)[0]?.text).toContain(
      'pH should be alike, but was 6.40 in Tank 1 and 5.90 in Tank 2 on average',
    );
    const near = logged(logged(watered(), 'z20', thrice({ ph: 6.3 })), 'z21', thrice({ ph: 5.9 }));
    expect(told(near)).toEqual([]);
  });

  it('not between levels of which the plan does not say what they set', () => {
    const open = watered([null, null]);
    const both = logged(logged(open, 'z20', thrice({ ph: 6.4 })), 'z21', thrice({ ph: 5.9 }));
    expect(told(both)).toEqual([]);
  });
});
