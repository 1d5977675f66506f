import {
  emptyPlan,
  newGrid,
  newLamp,
  newLampKind,
  newShelf,
  newTray,
} from '../../renderer/document/new';
import { newTrial } from '../../renderer/document/newTrial';
import { potsOfRack } from '../../renderer/engine/geometry';
import type { Assignment } from '../../shared-types/layout';
import type { Plan } from '../../shared-types/plan';

/**
 * Two shelves (s1, s2), a tray of 2 × 3 pots on each (t1, t2), one strip over each (l1, l2), the
 * factors light (f1: v1 high, v2 low, by shelf) and medium (f2: v3 bark, v4 clay, by pot) and the
 * measurements fresh weight at start (m1) and harvest (m2). The next id has the number 10.
 */
export function samplePlan(): Plan {
  const plan = emptyPlan('Bark or clay');
  const shelves = ['1', '2'].reduce<Plan['rack']['shelves']>((list, n) => {
    const shelf = newShelf(`s${n}`, list);
    const tray = newTray(`t${n}`, shelf);
    const grid = { ...newGrid(tray), rows: 2, columns: 3 };
    const lamps = [newLamp(`l${n}`, 'k1', shelf)];
    return [...list, { ...shelf, trays: [{ ...tray, grid }], lamps }];
  }, []);
  return {
    ...plan,
    nextId: 10,
    rack: { shelves, lampKinds: [newLampKind('k1')] },
    trial: {
      ...newTrial({ start: 'm1', harvest: 'm2' }, 'Which medium grows more?'),
      factors: [
        {
          id: 'f1',
          name: 'light',
          kind: 'randomised',
          unit: 'shelf',
          levels: [
            { id: 'v1', name: 'high' },
            { id: 'v2', name: 'low' },
          ],
          where: [],
        },
        {
          id: 'f2',
          name: 'medium',
          kind: 'randomised',
          unit: 'pot',
          levels: [
            { id: 'v3', name: 'bark' },
            { id: 'v4', name: 'clay' },
          ],
          where: [],
        },
      ],
    },
  };
}

/** The sample with a drawn layout: medium alternates, light by shelf. */
export function drawnPlan(plantedAt: string | null = null): Plan {
  const plan = samplePlan();
  const assignments = potsOfRack(plan.rack).map((pot, i): Assignment => ({
    potId: pot.id,
    block: pot.trayId === 't1' ? 'tray 1A' : 'tray 2A',
    levels: { f1: pot.shelfId === 's1' ? 'v1' : 'v2', f2: i % 2 === 0 ? 'v3' : 'v4' },
    plant: `P${i + 1}`,
  }));
  return {
    ...plan,
    layout: {
      scheme: 'complete-blocks',
      seed: 'seven herons',
      drawnAt: '2026-03-01T09:00:00+01:00',
      engineVersion: '0.1.0',
      drawnFrom: 'abc',
      candidates: 10,
      assignments,
      swaps: [],
      plantedAt,
    },
  };
}
