import { z } from 'zod';
import type { Trial } from '../../../shared-types/trial';
import { trialInputOf } from '../../../renderer/derive';
import { rehearse, type HarvestModel } from '../../../renderer/engine/trial';
import { BatchError } from '../batch-error';
import { checked, parseJson, readPlanFile } from '../inputs';
import type { Verb } from '../verb';

/**
 * True effects by factor: a number is the difference between first and last level, the others
 * evenly between; or a shift for every level. Factors and levels by name or id.
 */
const effectSchema = z.record(z.string(), z.union([z.number(), z.record(z.string(), z.number())]));

const modelSchema = z.strictObject({
  mean: z.number().optional(),
  perUmol: z.number().optional(),
  edgeEffect: z.number().optional(),
  plantSd: z.number().gt(0).optional(),
  traySd: z.number().min(0).optional(),
  shelfSd: z.number().min(0).optional(),
  deadShare: z.number().min(0).lt(1).optional(),
});

export const rehearseVerb: Verb = {
  name: 'rehearse',
  gives:
    'Power and false-alarm rate of each factor over N made-up harvests, with Monte-Carlo error. ' +
    'EFFECT: {"factor": difference} or {"factor": {"level": shift}}; {} for none.',
  takes: ['PLAN'],
  options: {
    effect: { value: 'JSON', needed: true },
    runs: { value: 'N', needed: true },
    seed: { value: 'TEXT', needed: true },
    model: { value: 'JSON', needed: false },
  },
  async run(args) {
    const path = args.positional('PLAN');
    const plan = await readPlanFile(path);
    const input = trialInputOf(plan);
    if (!input || !plan.trial) {
      throw new BatchError(`${path}, trial`, 'no trial is planned', 'a trial is expected');
    }
    const runs = Number(args.needed('runs'));
    if (!Number.isInteger(runs) || runs < 1 || runs > 1_000_000) {
      throw new BatchError(
        '--runs',
        `found ${args.needed('runs')}`,
        'a whole number from 1 to 1000000 is expected',
      );
    }
    const effect = checked('--effect', parseJson('--effect', args.needed('effect')), effectSchema);
    const given = args.optional('model');
    const stated = given ? checked('--model', parseJson('--model', given), modelSchema) : {};
    const { expected } = plan.trial;
    const model: HarvestModel = {
      mean: stated.mean ?? 0,
      perUmol: stated.perUmol ?? 0,
      edgeEffect: stated.edgeEffect ?? 0,
      plantSd: stated.plantSd ?? expected?.plantSd ?? 1,
      traySd: stated.traySd ?? expected?.unitSd ?? 0,
      shelfSd: stated.shelfSd ?? expected?.unitSd ?? 0,
      deadShare: stated.deadShare ?? 0,
    };
    const effects = effectsOf(plan.trial, effect);
    const report = rehearse({ ...input, model, effects, runs, seed: args.needed('seed') });
    return { ...report, model };
  },
};

function effectsOf(
  trial: Trial,
  effect: z.infer<typeof effectSchema>,
): Record<string, Record<string, number>> {
  const effects: Record<string, Record<string, number>> = {};
  for (const [name, wanted] of Object.entries(effect)) {
    const factor = trial.factors.find((f) => f.id === name || f.name === name);
    if (!factor) {
      const known = trial.factors.map((f) => f.name).join(', ');
      throw new BatchError(`--effect, ${name}`, 'no such factor', `expected one of ${known}`);
    }
    const last = factor.levels.length - 1;
    const byLevel: Record<string, number> = {};
    if (typeof wanted === 'number') {
      factor.levels.forEach((level, i) => (byLevel[level.id] = last > 0 ? (wanted * i) / last : 0));
    } else {
      for (const [levelName, shift] of Object.entries(wanted)) {
        const level = factor.levels.find((l) => l.id === levelName || l.name === levelName);
        if (!level) {
          const known = factor.levels.map((l) => l.name).join(', ');
          throw new BatchError(
            `--effect, ${name}.${levelName}`,
            'no such level',
            `expected one of ${known}`,
          );
        }
        byLevel[level.id] = shift;
      }
    }
    effects[factor.id] = byLevel;
  }
  return effects;
}
