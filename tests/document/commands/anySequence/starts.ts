import { emptyPlan } from '../../../../renderer/document/new';
import type { Plan } from '../../../../shared-types/plan';
import { drawnPlan, samplePlan } from '../../../builders/samplePlan';
import { drawnWithWater, withFactor, withSettings } from '../../../engine/treated/plans';

/**
 * The sample with a given factor, a meter reading, a rota of tray moves and its shelves numbered
 * from the top.
 */
function busyPlan(): Plan {
  const plan = samplePlan();
  const [low, high] = plan.rack.shelves;
  if (!low || !high || !plan.trial) throw new Error('the sample has two shelves and a trial');
  const factors = plan.trial.factors.map((f) => ({ ...f, kind: 'fixed' as const }));
  const at = { shelfId: 's1', xMm: 10, yMm: 10, zMm: 90, value: 210 };
  const meter = { unit: 'ppfd' as const, luxPerPpfd: null, date: null, note: '' };
  return {
    ...plan,
    rack: {
      ...plan.rack,
      shelves: [
        { ...low, number: 2 },
        { ...high, number: 1 },
      ],
    },
    light: {
      ...plan.light,
      readings: [{ id: 'r8', ...at, ...meter }],
      rota: [{ fromDay: 3, toDay: 9, places: { t1: { placeOf: 't1', turned: true } } }],
    },
    trial: { ...plan.trial, factors },
  };
}

/** Drawn and planted, with two weighed plants that no pot was left for. */
const withSpares: Plan = {
  ...drawnPlan('2026-03-02'),
  plants: ['S1', 'S2'].map((code) => ({ code, startValue: 2.5 })),
};

/** Light fixed by hand: shelf 2 is to be dimmed, and is drawn at full output. */
const setByHand: Plan = withSettings(
  withFactor({ ...drawnWithWater(), layout: null, nextId: 50 }, 'f1', {
    kind: 'fixed',
    where: [{ unitId: 's2', levelId: 'v2' }],
  }),
  { v2: { through: 'light', dimming: 0.5 } },
);

/** Plans to begin from: by hand, drawn, planted, with spares, empty. */
export const starts = [
  setByHand,
  drawnPlan(),
  drawnPlan('2026-03-02'),
  samplePlan(),
  busyPlan(),
  withSpares,
  emptyPlan('New'),
];
