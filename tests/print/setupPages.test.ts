import { expect, test } from 'vitest';
import { defaultOptions, printables, printed } from '../../renderer/print';
import type { Plan } from '../../shared-types/plan';
import { drawnWithWater, withFactor, withSettings } from '../engine/treated/plans';

const plan: Plan = withSettings(drawnWithWater(), {
  v2: { through: 'light', dimming: 0.5, photoperiodHours: 12 },
  v3: { through: 'medium', mediumId: 'n1' },
});

/** The words of the list, without its style sheet; null where there is none. */
function words(of: Plan, blinded: boolean): string | null {
  const options = { ...defaultOptions('A4'), blinded };
  if (!printables(of, options).some(({ name }) => name === 'setup-list')) return null;
  const html = printed(of, 'setup-list', options)?.html ?? '';
  return html
    .replace(/<style>[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');
}

test('the list tells place by place what to hang and to mix', () => {
  const said = words(plan, false) ?? '';
  for (const part of ['Lamps and timers', 'Shelf 2', 'low', 'at 50 %, 12 h', 'Media', 'bark']) {
    expect(said).toContain(part);
  }
  expect(said).toContain('before planting');
  expect(said).not.toContain('Reservoirs');
});

test('in a blinded set it is sealed, for the one person who sets up', () => {
  const said = words(plan, true) ?? '';
  expect(said).toContain('Sealed: hanging and filling list');
  expect(said).toContain('for nobody who plants, weighs or judges');
});

test('a plan with nothing to set up has none', () => {
  const bare = withFactor(drawnWithWater(), 'f1', {});
  expect(words(bare, false)).toBeNull();
  expect(words({ ...plan, layout: null }, false)).toBeNull();
});

test('a long list goes on over as many pages as it takes, its titles never alone', () => {
  const zones = Array.from({ length: 60 }, (_, i) => `t${i + 1}`);
  const [shelf] = plan.rack.shelves;
  const [tray] = shelf?.trays ?? [];
  const [zone] = plan.flood?.zones ?? [];
  if (!shelf || !tray || !zone || !plan.flood || !plan.layout) throw new Error('changed');
  const many: Plan = {
    ...withSettings(withFactor(drawnWithWater(), 'f1', { unit: 'tray' }), {
      v1: { through: 'water', solution: 'feed' },
    }),
    rack: {
      ...plan.rack,
      shelves: [{ ...shelf, trays: zones.map((id) => ({ ...tray, id })) }],
    },
    flood: {
      ...plan.flood,
      zones: zones.map((id, i) => ({
        ...zone,
        id: `z${i + 1}`,
        name: `can ${i + 1}`,
        trayIds: [id],
      })),
    },
    layout: {
      ...plan.layout,
      assignments: zones.map((id) => ({
        potId: `${id}:1:1`,
        block: '',
        levels: { f1: 'v1', f2: 'v3' },
        plant: null,
      })),
    },
  };
  const made = printed(many, 'setup-list', defaultOptions('A4'));
  expect(made?.pages).toBeGreaterThan(1);
  expect(made?.html.match(/can \d+</g)).toHaveLength(60);
});
