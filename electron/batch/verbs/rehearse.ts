import { z } from 'zod';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import { rehearsalInputOf, startHere, usesStart } from '../../../renderer/derive';
import {
  differencesBetweenEnds,
  type HarvestModel,
  type TrueEffects,
} from '../../../renderer/engine/trial';
import { spreadBetween } from '../../../renderer/engine/trial/power';
import { BatchError } from '../batchError';
import { checked, parseJson, readPlanFile } from '../inputs';
import type { Verb } from '../verb';

const MOST_RUNS = 100_000;

const effectSchema = z.record(
  z.string().min(1),
  z.union([z.number(), z.record(z.string(), z.number())]),
);

const modelSchema = z.strictObject({
  perUmol: z.number().optional(),
  edgeEffect: z.number().optional(),
  plantSd: z.number().gt(0).optional(),
  traySd: z.number().min(0).optional(),
  shelfSd: z.number().min(0).optional(),
  deadShare: z.number().min(0).lt(1).optional(),
  startCorrelation: z.number().gt(-1).lt(1).optional(),
});

// What a weight at planting usually says of that at harvest; stated with the result.
const START_CORRELATION = 0.5;

export const rehearseVerb: Verb = {
  name: 'rehearse',
  gives:
    'Power and false-alarm rate of each factor and interaction over N made-up harvests, analysed ' +
    'as the findings will, with Monte-Carlo error. EFFECT: {"factor": difference between first ' +
    'and last level, the others midway}, {"factor": {"level": shift}} or {"factor × factor": ' +
    'difference between differences}; {} for none. MODEL: {"perUmol", "edgeEffect", "plantSd", ' +
    '"traySd", "shelfSd", "deadShare", "startCorrelation"}; what is left out is ' +
    'the plan’s, and a spread between units that nobody said is assumed and named so.',
  takes: ['PLAN'],
  options: {
    effect: { value: 'JSON', needed: true },
    runs: { value: 'N', needed: true },
    seed: { value: 'TEXT', needed: true },
    model: { value: 'JSON', needed: false },
  },
  async run(args, startJob = startHere) {
    const path = args.positional('PLAN');
    const runs = readRuns(args.needed('runs'));
    const effect = checked('--effect', parseJson('--effect', args.needed('effect')), effectSchema);
    const given = args.optional('model');
    const stated = given ? checked('--model', parseJson('--model', given), modelSchema) : {};
    const plan = await readPlanFile(path);
    const input = rehearsalInputOf(plan);
    if (!input || !plan.trial || plan.trial.factors.length === 0) {
      const found = plan.trial ? 'nothing is compared' : 'no trial is planned';
      throw new BatchError(`${path}, trial`, found, 'a trial with a factor is expected');
    }
    const { expected } = plan.trial;
    if (!expected && stated.plantSd === undefined) {
      throw new BatchError(
        `${path}, trial.expected`,
        'the plan expects no spread and --model gives no plantSd',
        'one of them is expected',
      );
    }
    const spread = {
      plantSd: stated.plantSd ?? expected?.plantSd ?? 1,
      unitSd: expected?.unitSd ?? null,
    };
    const [trays, shelves] = [spreadBetween('tray', spread), spreadBetween('shelf', spread)];
    const assumed = [
      ...(stated.traySd === undefined && trays.assumed ? ['traySd'] : []),
      ...(stated.shelfSd === undefined && shelves.assumed ? ['shelfSd'] : []),
    ];
    const model: HarvestModel = {
      perUmol: stated.perUmol ?? 0,
      edgeEffect: stated.edgeEffect ?? 0,
      plantSd: spread.plantSd,
      traySd: stated.traySd ?? trays.sd,
      shelfSd: stated.shelfSd ?? shelves.sd,
      deadShare: stated.deadShare ?? 0,
      startCorrelation: stated.startCorrelation ?? (usesStart(plan.trial) ? START_CORRELATION : 0),
    };
    const effects = effectsOf(plan.trial, effect);
    const asked = { ...input, model, effects, runs, seed: args.needed('seed') };
    const report = await startJob('rehearsal', asked, () => undefined).result;
    // What nobody said of the spread between units is named, so that no figure passes for known.
    return { ...report, model, assumed };
  },
};

function readRuns(text: string): number {
  const runs = Number(text);
  if (/^\d+$/.test(text) && runs >= 1 && runs <= MOST_RUNS) return runs;
  throw new BatchError(
    '--runs',
    `found ${text}`,
    `a whole number from 1 to ${MOST_RUNS} is expected`,
  );
}

function effectsOf(trial: Trial, effect: z.infer<typeof effectSchema>): TrueEffects {
  let effects: TrueEffects = { levels: {}, interactions: [] };
  for (const [name, wanted] of Object.entries(effect)) {
    const factors = factorsOf(trial, name);
    const [factor] = factors;
    if (!factor) continue;
    if (factors.length > 1) {
      if (typeof wanted !== 'number') {
        throw new BatchError(
          `--effect, ${name}`,
          'found shifts of levels',
          'one number, the difference between differences, is expected for an interaction',
        );
      }
      const factorIds = factors.map((one) => one.id);
      const interactions = [...effects.interactions, { factorIds, difference: wanted }];
      effects = { ...effects, interactions };
      continue;
    }
    const shifts =
      typeof wanted === 'number'
        ? differencesBetweenEnds([factor], () => wanted).levels
        : { [factor.id]: shiftsOf(factor, name, wanted) };
    effects = { ...effects, levels: { ...effects.levels, ...shifts } };
  }
  return effects;
}

/** One factor by its name or id, or those of an interaction. */
function factorsOf(trial: Trial, name: string): Factor[] {
  const find = (one: string) => trial.factors.find((f) => f.id === one || f.name === one);
  const whole = find(name);
  if (whole) return [whole];
  return name.split('×').map((part) => {
    const factor = find(part.trim());
    if (factor) return factor;
    const known = trial.factors.map((f) => f.name).join(', ');
    throw new BatchError(`--effect, ${name}`, 'no such factor', `expected one of ${known}`);
  });
}

function shiftsOf(
  factor: Factor,
  name: string,
  wanted: Record<string, number>,
): Record<string, number> {
  const byLevel: Record<string, number> = {};
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
  return byLevel;
}
