import { unitWords } from '../../../shared-types/trial/trial';
import type { Plan } from '../../../shared-types/plan';
import type { Trial } from '../../../shared-types/trial/trial';
import type { Scheme } from '../../../shared-types/trial/scheme';
import { schemeSchema } from '../../../shared-types/trial/scheme';
import { lightInBlocks, smallSampleFactor, type LightInBlocks } from '../../engine/trial';
import { lacksLight } from '../../engine/trial/blocks/blocks';
import { misfitsOf } from '../../engine/trial/fit/fit';
import { schemeCrossesStrips, schemeNests } from '../../engine/trial/site/site';
import { siteOf } from '../../engine/trial/site/siteOf';
import { ppfdByPotOf } from '../light/potLight';
import { memo } from '../memo';
import { attempt, blocksOfPlan, trialInputOf, type Attempt } from './trial';

/** One block and how alike its pots are. */
export interface BlockFigure {
  name: string;
  pots: number;
  /** µmol m⁻² s⁻¹; null where the light of a pot is not known. */
  meanPpfdUmol: number | null;
  cv: number | null;
}

export interface BlockFigures {
  blocks: BlockFigure[];
  /** null where the light is not known at every measured pot. */
  light: LightInBlocks | null;
  /** What the fewer degrees of freedom for error leave of the gain; null without several blocks. */
  smallSample: number | null;
}

/** How alike the pots of each block are in light, and what the blocks may gain. */
export const blockFiguresOf = memo((plan: Plan): Attempt<BlockFigures> => {
  const blocks = blocksOfPlan(plan);
  const input = trialInputOf(plan);
  if (!blocks.ok) return blocks;
  if (!input) return { ok: false, reason: 'No trial is planned yet.' };
  return attempt(() => {
    const ppfd = ppfdByPotOf(plan);
    const figures = blocks.value.map(({ name, potIds }): BlockFigure => {
      const lights = potIds.flatMap((id) => ppfd.get(id) ?? []);
      if (lights.length < potIds.length || lights.length === 0) {
        return { name, pots: potIds.length, meanPpfdUmol: null, cv: null };
      }
      const mean = lights.reduce((sum, value) => sum + value, 0) / lights.length;
      const squares = lights.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      const sd = lights.length > 1 ? Math.sqrt(squares / (lights.length - 1)) : 0;
      return { name, pots: potIds.length, meanPpfdUmol: mean, cv: mean > 0 ? sd / mean : null };
    });
    const pots = figures.reduce((sum, block) => sum + block.pots, 0);
    const several = figures.length > 1 && pots > figures.length;
    return {
      blocks: figures,
      light: lightInBlocks(input),
      smallSample: several ? smallSampleFactor(figures.length, pots / figures.length) : null,
    };
  });
});

/** Whether a scheme can be drawn on this rack with the factors and blocks as they are. */
export interface SchemeFit {
  scheme: Scheme;
  /** null: it fits. */
  misfit: { text: string; remedy: string } | null;
}

/** Drawn factors on more than one kind of unit, in words; null where they share one. */
function onSeveralUnits(trial: Trial): string | null {
  const assigned = trial.factors.filter((factor) => factor.kind === 'randomised');
  if (new Set(assigned.map((factor) => factor.unit)).size < 2) return null;
  const where = assigned.map((factor) => `${factor.name} on ${unitWords[factor.unit].many}`);
  return `The factors sit on different units: ${where.join(', ')}.`;
}

export const schemeFitsOf = memo((plan: Plan): SchemeFit[] => {
  const input = trialInputOf(plan);
  if (!input || input.trial.factors.length === 0) return [];
  return schemeSchema.options.map((scheme): SchemeFit => {
    const own = { ...input, trial: { ...input.trial, scheme } };
    if (lacksLight(own)) {
      return {
        scheme,
        misfit: {
          text: 'The blocks follow the light, but the light is not known at every measured pot.',
          remedy: 'Hang lamps over every shelf with measured pots, or choose other blocks.',
        },
      };
    }
    const split = onSeveralUnits(input.trial);
    if (split !== null && !schemeNests(scheme) && !schemeCrossesStrips(scheme)) {
      return {
        scheme,
        misfit: {
          text: split,
          remedy: 'Only a split plot draws whole trays or shelves first and the pots within after.',
        },
      };
    }
    const misfit = attempt(() => misfitsOf(siteOf(own))[0] ?? null);
    return {
      scheme,
      misfit: misfit.ok ? misfit.value : { text: misfit.reason, remedy: '' },
    };
  });
});
