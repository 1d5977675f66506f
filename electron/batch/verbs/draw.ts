import type { Plan } from '../../../shared-types/plan';
import {
  balanceOfPlan,
  drawFor,
  seedInRun,
  engineVersion,
  placedPotsOf,
  trialInputOf,
  type PotInTrial,
} from '../../../renderer/derive';
import { blindedSince } from '../../../renderer/document/queries';
import { inRun, runName, seenFrom } from '../../../renderer/document/runs';
import { treatmentsOnScreen } from '../../../renderer/print';
import { writeDelimited } from '../../../renderer/tables';
import {
  drawLayout,
  layoutEfficiency,
  lineEfficiency,
  type TrialInput,
} from '../../../renderer/engine/trial';
import type { Layout } from '../../../shared-types/layout';
import { type Site } from '../../../renderer/engine/trial/site/site';
import { siteOf } from '../../../renderer/engine/trial/site/siteOf';
import { unitOrder } from '../../../renderer/engine/trial/site/siteUnits';
import { type UnitKind } from '../../../shared-types/trial/trial';
import { schemeTraits } from '../../../shared-types/trial/scheme';
import { blindedInResult } from '../asAsked';
import { BatchError } from '../batchError';
import { readPlanFile } from '../inputs';
import { inRunAsked, runInResult, runOption } from '../runAsked';
import { Text, type Verb } from '../verb';

// The draw does not depend on the clock, so neither does what is printed of it.
const NO_TIME = '1970-01-01T00:00:00Z';

export const drawVerb: Verb = {
  name: 'draw',
  gives:
    'A layout drawn from a text seed, with its balance; the plan file stays as it is. While the trial ' +
    'is blinded, codes as on its charts instead of treatments, and no balance.',
  takes: ['PLAN'],
  options: { seed: { value: 'TEXT', needed: true }, csv: 'flag', ...runOption },
  async run(args) {
    const path = args.positional('PLAN');
    const plan = withFirstDrawn(
      inRunAsked(await readPlanFile(path), args.optional('run')),
      args.needed('seed'),
    );
    const input = trialInputOf(plan);
    if (!input)
      throw new BatchError(`${path}, trial`, 'no trial is planned', 'a trial is expected');
    // Listed plants are given to the pots by size; the values at the start are theirs, not the pots'.
    const plants = plan.plants?.filter((plant) => plant.lost !== true);
    const { layout, report } = drawLayout({
      ...input,
      ...(plants ? { plants, startByPot: undefined } : {}),
      seed: seedInRun(plan, args.needed('seed')),
      drawnAt: NO_TIME,
      engineVersion,
    });
    const drawn: Plan = { ...plan, layout };
    const unitOf = unitWordsOf(siteOf(input));
    const isBlinded = blindedSince(plan) !== null;
    const columns = isBlinded ? BLINDED_COLUMNS : columnsOf(drawn);
    const cells = isBlinded ? blindedCells(drawn, unitOf) : openCells(drawn, unitOf);
    const rows = [...placedPotsOf(drawn).values()].map(cells);
    if (args.flag('csv')) {
      return new Text(writeDelimited([columns, ...rows], { lineEnd: '\n' }));
    }
    const pots = rows.map((cells) =>
      Object.fromEntries(columns.map((name, i) => [name, cells[i]])),
    );
    const whole = report.stages.some((stage) => stage.name === 'rack');
    const balance = isBlinded ? null : balanceOfPlan(drawn);
    return {
      ...runInResult(plan),
      ...blindedInResult(plan),
      scheme: layout.scheme,
      seed: layout.seed,
      engineVersion: layout.engineVersion,
      drawnFrom: layout.drawnFrom,
      candidates: report.candidates,
      shared: whole ? SHARED : APART,
      efficiency: efficiencyOf(input, layout),
      pots,
      balance: balance?.ok ? balance.value : null,
    };
  },
};

/** A run that swaps levels is bound to the draw of another; where that is not drawn, it is drawn first. */
function withFirstDrawn(plan: Plan, seed: string): Plan {
  const { swap } = plan;
  if (!swap || seenFrom(plan, swap.fromRun).layout) return plan;
  return inRun(plan, swap.fromRun, (first) => {
    const drawn = drawFor(first, seed, NO_TIME);
    if (!drawn.ok)
      throw new BatchError(
        runName(plan, swap.fromRun),
        drawn.reason,
        'a plan that can be drawn is expected',
      );
    return { ...first, layout: drawn.value };
  });
}

const APART = 'Every shelf is drawn on its own: an added shelf leaves the others as they are.';
const SHARED =
  'Treatments are shared out over all shelves together: another shelf would change the others.';

/** Average efficiency factor where blocks, or rows and columns, may not hold every treatment. */
function efficiencyOf(input: TrialInput, layout: Layout): number | null {
  const { draw } = schemeTraits[input.trial.scheme];
  switch (draw) {
    case 'design':
      return layoutEfficiency(input.trial, layout);
    case 'lines': {
      const byPots = input.trial.factors.every((factor) => factor.unit === 'pot');
      return byPots ? lineEfficiency(input, layout) : null;
    }
    case 'shares':
    case 'squares':
      return null;
    default:
      return draw satisfies never;
  }
}

const OWN_COLUMNS = ['pot', 'block', 'unit', 'treatment', 'plant'];

/** The names of the columns; a factor that bears one of ours is told apart. */
function columnsOf(plan: Plan): string[] {
  const taken = new Set(OWN_COLUMNS);
  const factors = (plan.trial?.factors ?? []).map((factor) => {
    let { name } = factor;
    while (taken.has(name)) name = `${name} (factor)`;
    taken.add(name);
    return name;
  });
  return ['pot', 'block', 'unit', 'treatment', ...factors, 'plant'];
}

type CellsOf = (place: PotInTrial) => (string | null)[];

const openCells =
  (plan: Plan, unitOf: (potId: string) => string): CellsOf =>
  ({ pot, block, treatment, plant }) => {
    const levels = (plan.trial?.factors ?? []).map(
      (factor) =>
        factor.levels.find((level) => level.id === treatment?.levels[factor.id])?.name ?? null,
    );
    return [pot.code, block, unitOf(pot.id), treatment?.letter ?? null, ...levels, plant];
  };

const BLINDED_COLUMNS = ['pot', 'block', 'unit', 'code', 'plant'];

function blindedCells(plan: Plan, unitOf: (potId: string) => string): CellsOf {
  const { byIndex } = treatmentsOnScreen(plan);
  return ({ pot, block, index, plant }) => [
    ...[pot.code, block, unitOf(pot.id), byIndex[index]?.mark ?? null, plant],
  ];
}

/** What the most widely laid factor sits on; in a strip plot the crossing of two strips. */
function unitWordsOf(site: Site): (potId: string) => string {
  const numbers = new Map(site.pots.map((pot, i) => [pot.id, i] as const));
  const widest =
    unitOrder(site.unitOf).find((unit) => site.trial.factors.some((f) => f.unit === unit)) ?? 'pot';
  const nameOf = (unit: UnitKind, i: number): string =>
    site.unitNames[unit][site.unitOf[unit].classOf[i] ?? -1] ?? '';
  return (potId) => {
    const i = numbers.get(potId) ?? -1;
    if (widest === 'row-strip') {
      const [rows, columns] = [nameOf('row-strip', i), nameOf('column-strip', i)];
      const block = site.blocks.find((one) => one.potIds.includes(potId))?.name ?? '';
      return `${rows} × ${columns.replace(`${block} `, '')}`;
    }
    const name = nameOf(widest, i);
    return widest === 'pot' ? name : `${name[0]?.toLowerCase() ?? ''}${name.slice(1)}`;
  };
}
