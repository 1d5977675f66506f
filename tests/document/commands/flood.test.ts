import { describe, expect, it } from 'vitest';
import { applyCommand } from '../../../renderer/document/apply';
import type { Command } from '../../../renderer/document/command';
import * as commands from '../../../renderer/document/commands';
import type { Plan } from '../../../shared-types/plan';
import { samplePlan } from '../../builders/samplePlan';

function run<Args>(plan: Plan, command: Command<Args>, args: Args): Plan {
  const outcome = applyCommand(plan, command, args);
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.plan;
}

const trays = (plan: Plan) => plan.rack.shelves.flatMap((s) => s.trays.map((t) => t.id));

describe('commands of the flooding', () => {
  const begun = run({ ...samplePlan(), flood: null }, commands.startFlood, {});

  it('begin with one zone over all trays', () => {
    expect(begun.flood?.zones.map((z) => z.trayIds)).toEqual([trays(begun)]);
  });

  it('take a tray from one zone when it is given to another', () => {
    const [tray = ''] = trays(begun);
    const two = run(begun, commands.addZone, {});
    const [first, second] = two.flood?.zones ?? [];
    expect(second?.trayIds).toEqual([]);
    const moved = run(two, commands.editZone, {
      zoneId: second?.id ?? '',
      patch: { trayIds: [tray] },
    });
    expect(moved.flood?.zones.map((z) => z.trayIds.includes(tray))).toEqual([false, true]);
    const circuit = run(moved, commands.addCircuit, {});
    expect(circuit.flood?.circuits[0]?.zoneIds).toEqual([first?.id, second?.id]);
    const without = run(circuit, commands.removeZone, { zoneId: second?.id ?? '' });
    expect(without.flood?.circuits[0]?.zoneIds).toEqual([first?.id]);
  });

  it('refuse a tray in two media, and a pump whose flow grows with head', () => {
    const medium = {
      name: 'bark',
      porosity: 0.7,
      dryDensityKgM3: 300,
      waterAtDrainShare: 0.3,
      trayIds: trays(begun).slice(0, 1),
    };
    const one = run(begun, commands.addMedium, { medium });
    const twice = applyCommand(one, commands.addMedium, { medium });
    expect(twice).toMatchObject({ ok: false });
    const zone = begun.flood?.zones[0];
    if (!zone) throw new Error('no zone');
    const curve = [
      { headM: 0, flowLMin: 5 },
      { headM: 1, flowLMin: 6 },
    ];
    const wrong = applyCommand(begun, commands.editZone, {
      zoneId: zone.id,
      patch: { pump: { ...zone.pump, curve } },
    });
    expect(wrong).toMatchObject({ ok: false });
  });

  it('edit and remove circuits by their list', () => {
    const one = run(begun, commands.addCircuit, {});
    const none = run(one, commands.editFlood, { patch: { circuits: [] } });
    expect(none.flood?.circuits).toEqual([]);
    expect(() => run({ ...begun, flood: null }, commands.editFlood, { patch: {} })).toThrow(/not/);
  });
});
