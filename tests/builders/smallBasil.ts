import { markPlanted } from '../../renderer/document/commands';
import { trialInputOf } from '../../renderer/derive/trial/trial';
import { drawLayout } from '../../renderer/engine/trial';
import type { Plan } from '../../shared-types/plan';
import type { Trial } from '../../shared-types/trial/trial';
import { undrawn } from './examplePlans';
import { run } from './run';

const ROWS = 2;

/**
 * The basil example on trays of two rows, a third of its pots, drawn, planted and harvested: what
 * its findings say takes a tenth of the time. Strong feed adds 6 g a step, by a fixed pattern of
 * plants; every plant is alive.
 */
export function smallBasil(): Plan & { trial: Trial } {
  const plan = undrawn('basil');
  const shelves = plan.rack.shelves.map((shelf) => ({
    ...shelf,
    trays: shelf.trays.map((tray) => ({
      ...tray,
      grid: tray.grid && { ...tray.grid, rows: ROWS },
    })),
  }));
  const smaller = { ...plan, rack: { ...plan.rack, shelves } };
  const input = trialInputOf(smaller);
  if (!input) throw new Error('the example has a trial');
  const { layout } = drawLayout({
    ...input,
    seed: 'small basil',
    drawnAt: '2026-02-27T09:30:00+01:00',
    engineVersion: 'test',
  });
  const planted = run({ ...smaller, layout }, markPlanted, { date: '2026-03-02' });
  const [feed, cultivar] = plan.trial.factors;
  const step = (factor: typeof feed, levels: Readonly<Record<string, string>>) =>
    factor?.levels.findIndex(({ id }) => id === levels[factor.id]) ?? 0;
  const values: Plan['records']['values'] = {};
  for (const { id, kind, timepoint } of plan.trial.measurements) {
    const [base, gain] = kind === 'count' ? [8, 2] : timepoint === 'start' ? [2, 0] : [30, 6];
    values[id] = Object.fromEntries(
      layout.assignments.map(({ potId, levels }, i) => {
        const odd = ((i * 7919) % 41) / (timepoint === 'start' ? 40 : 10);
        const value = base + gain * step(feed, levels) + step(cultivar, levels) + odd;
        return [potId, kind === 'count' ? Math.round(value) : Math.round(value * 10) / 10];
      }),
    );
  }
  return { ...planted, trial: plan.trial, records: { ...planted.records, values } };
}
