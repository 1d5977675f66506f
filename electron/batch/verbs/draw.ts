import Papa from 'papaparse';
import type { Plan } from '../../../shared-types/plan';
import {
  balanceOfPlan,
  engineVersion,
  placedPotsOf,
  trialInputOf,
  type PlacedPot,
} from '../../../renderer/derive';
import { drawLayout } from '../../../renderer/engine/trial';
import { BatchError } from '../batch-error';
import { readPlanFile } from '../inputs';
import { Text, type Verb } from '../verb';

// The draw does not depend on the clock, so neither does what is printed of it.
const NO_TIME = '1970-01-01T00:00:00Z';

export const drawVerb: Verb = {
  name: 'draw',
  gives: 'A layout drawn from a text seed, with its balance; the plan file stays as it is.',
  takes: ['PLAN'],
  options: { seed: { value: 'TEXT', needed: true }, csv: 'flag' },
  async run(args) {
    const path = args.positional('PLAN');
    const plan = await readPlanFile(path);
    const input = trialInputOf(plan);
    if (!input)
      throw new BatchError(`${path}, trial`, 'no trial is planned', 'a trial is expected');
    // Listed plants are given to the pots by size; the values at the start are theirs, not the pots'.
    const plants = plan.plants?.filter((plant) => plant.lost !== true);
    const { layout, report } = drawLayout({
      ...input,
      ...(plants ? { plants, startByPot: undefined } : {}),
      seed: args.needed('seed'),
      drawnAt: NO_TIME,
      engineVersion,
    });
    const drawn: Plan = { ...plan, layout };
    const pots = [...placedPotsOf(drawn).values()].map((place) => rowOf(drawn, place));
    if (args.flag('csv')) return new Text(`${Papa.unparse(pots, { newline: '\n' })}\n`);
    const balance = balanceOfPlan(drawn);
    return {
      scheme: layout.scheme,
      seed: layout.seed,
      engineVersion: layout.engineVersion,
      drawnFrom: layout.drawnFrom,
      candidates: report.candidates,
      pots,
      balance: balance?.ok ? balance.value : null,
    };
  },
};

/** One pot of the layout; `unit` is what its most widely laid factor sits on. */
function rowOf(plan: Plan, place: PlacedPot): Record<string, string | null> {
  const factors = plan.trial?.factors ?? [];
  const shelf = plan.rack.shelves.find((s) => s.id === place.pot.shelfId);
  const unit = factors.some((f) => f.unit === 'shelf')
    ? `shelf ${shelf?.number ?? ''}`
    : factors.some((f) => f.unit === 'tray')
      ? `tray ${place.pot.code.split('-')[0] ?? ''}`
      : place.pot.code;
  const levels = factors.map((factor) => {
    const id = place.treatment?.levels[factor.id];
    return [factor.name, factor.levels.find((level) => level.id === id)?.name ?? null] as const;
  });
  return {
    pot: place.pot.code,
    block: place.block,
    unit,
    treatment: place.treatment?.letter ?? null,
    ...Object.fromEntries(levels),
    plant: place.plant,
  };
}
