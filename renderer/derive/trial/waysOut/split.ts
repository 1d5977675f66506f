import type { Plan } from '../../../../shared-types/plan';
import type { Factor, Trial, UnitKind } from '../../../../shared-types/trial/trial';
import type { Blocks, Scheme } from '../../../../shared-types/trial/scheme';
import { bind } from '../../../document';
import { redesign } from '../../../document/commands';
import { asApplied, trialPotsOf } from '../../../engine/trial';
import { schemeUsesBlocks } from '../../../engine/trial/site/site';
import { list } from '../../../words';
import { zonesOf } from '../trial';
import { wayBy, type Today, type WayOut } from './way';

/** Levels laid on smaller units than today, as far as these can differ in what they are applied through. */
export function splits(factor: Factor, today: Today): WayOut[] {
  return (['pot', 'tray'] as const)
    .filter((unit) => unit === 'pot' || factor.unit === 'shelf' || factor.unit === 'bay')
    .filter((unit) => factor.unit !== unit && canDiffer(today.plan, factor, unit))
    .flatMap((unit) => splitOnto(factor, unit, today) ?? []);
}

/** Whether what the factor is applied through can differ between such units on this rack. */
function canDiffer(plan: Plan, factor: Factor, unit: 'tray' | 'pot'): boolean {
  if (!plan.trial) return false;
  const factors = [{ ...factor, unit, kind: 'randomised' as const, where: [] }];
  const { shared } = asApplied({ ...plan.trial, factors }, trialPotsOf(plan.rack, zonesOf(plan)));
  return shared.length === 0;
}

/** Blocks and schemes to try, the ones that keep the plan's own first. */
export function designsFor(trial: Trial, factor: Factor, unit: UnitKind): [Blocks, Scheme][] {
  const others = trial.factors.some((one) => one.id !== factor.id && one.unit !== unit);
  const schemes: Scheme[] = others ? ['split-plot'] : ['complete-blocks', 'completely-randomised'];
  const blocks: Blocks[] = [
    ...(trial.blocks.by === 'none' ? [] : [trial.blocks]),
    ...(unit === 'pot' ? [{ by: 'tray' } as const] : []),
    { by: 'shelf' },
    { by: 'none' },
  ];
  return schemes.flatMap((scheme) => blocks.map((one): [Blocks, Scheme] => [one, scheme]));
}

function splitOnto(factor: Factor, unit: 'tray' | 'pot', today: Today): WayOut | null {
  const { trial } = today.plan;
  if (!trial) return null;
  for (const [blocks, scheme] of designsFor(trial, factor, unit)) {
    const command = bind(redesign, { factorId: factor.id, unit, blocks, scheme });
    const way = wayBy(command, factor.id, today, ({ unitsPerLevel }) => {
      const each = Math.min(...unitsPerLevel.map((level) => level.units));
      return {
        title:
          unit === 'pot'
            ? `Mix ${mixed(factor)} in every tray`
            : `Give each tray its own ${factor.name}`,
        says: `${each} ${unit}s a level, shuffled ${within(blocks, scheme)}.`,
        costs: ['nothing to buy', ...onlyIf(factor, unit)],
        price: unit === 'pot' ? 0 : 1,
      };
    });
    if (way) return way;
  }
  return null;
}

/** Up to three levels are named. */
const mixed = ({ levels, name }: Factor): string =>
  levels.length <= 3 ? list(levels.map((level) => level.name)) : `all levels of ${name}`;

/** What is not known of a factor of which nobody said what it is applied through. */
const onlyIf = ({ appliedThrough, name }: Factor, unit: 'tray' | 'pot'): string[] =>
  appliedThrough === undefined ? [`only if ${name} can be given ${unit} by ${unit}`] : [];

function within(blocks: Blocks, scheme: Scheme): string {
  if (!schemeUsesBlocks(scheme) || blocks.by === 'none') return 'over the whole rack';
  if (blocks.by === 'shelf' || blocks.by === 'tray') return `within each ${blocks.by}`;
  return 'within the groups';
}
