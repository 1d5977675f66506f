import type { QuickAnswers, QuickFactor } from '../../../shared-types/window/quickStart';
import type { Plan } from '../../../shared-types/plan';
import { bind, type BoundCommand } from '../compose';
import { Refusal } from '../command';
import { change, trialIn } from '../edit';
import { emptyPlan, newFlood } from '../new';
import { takeIdFrom } from '../ids';
import { addFactor } from '../commands/trial/factors/addFactor';
import { editFactor } from '../commands/trial/factors/editFactor';
import { setLevelSettings } from '../commands/trial/factors/setLevelSettings';
import { addMeasurement } from '../commands/trial/addMeasurement';
import { editTrial } from '../commands/trial/editTrial';
import { removeMeasurement } from '../commands/trial/removeMeasurement';
import { setBlocks } from '../commands/trial/setBlocks';
import { setScheme } from '../commands/trial/setScheme';
import { setTrial } from '../commands/trial/setTrial';
import { addLamp } from '../commands/lamps/addLamp';
import { addLampKind } from '../commands/lamps/addLampKind';
import { addShelf } from '../commands/rack/shelves/addShelf';
import { addTray } from '../commands/rack/trays/addTray';
import { designOf } from './design';
import { settingsIn } from './levels';
import { gridOf, lampPlaces, vesselsOn } from './rack';

/**
 * The plan that the answers make in place of a rack and trial that are not drawn yet: title, notes and
 * units stay. The same plan and answers make the same plan.
 */
export function quickPlan(plan: Plan, answers: QuickAnswers): Plan {
  const { rack, flood, trial, light } = emptyPlan(plan.title);
  const bare: Plan = { ...plan, rack, flood, trial, light, layout: null, acceptedNotices: [] };
  return withTrial(withRack(bare, answers), answers);
}

const after = (plan: Plan, ...commands: readonly BoundCommand[]): Plan =>
  commands.reduce((sum, command) => command.run(sum, null), plan);

function withRack(plan: Plan, answers: QuickAnswers): Plan {
  const { widthMm, depthMm, clearanceMm, shelves, lamps } = answers;
  const grid = gridOf(answers);
  let made = lamps > 0 ? after(plan, bind(addLampKind, { kind: answers.lamp })) : plan;
  const kindId = made.rack.lampKinds[0]?.id ?? '';
  for (let n = 0; n < shelves; n++) {
    made = after(made, bind(addShelf, { shelf: { widthMm, depthMm, clearanceMm } }));
    const shelfId = made.rack.shelves.at(-1)?.id ?? '';
    made = after(
      made,
      ...vesselsOn(answers).map((tray) => bind(addTray, { shelfId, tray: { ...tray, grid } })),
      ...lampPlaces(answers).map((lamp) => bind(addLamp, { shelfId, kindId, lamp })),
    );
  }
  return made;
}

function withTrial(plan: Plan, answers: QuickAnswers): Plan {
  const { scheme, blocks } = designOf(answers);
  const started = after(plan, bind(setTrial, { question: answers.question }));
  const measured = withMeasurements(started, answers);
  return after(
    answers.factors.reduce(withFactor, measured),
    bind(setScheme, { scheme }),
    bind(setBlocks, { blocks }),
  );
}

function withFactor(plan: Plan, factor: QuickFactor): Plan {
  const { name, levels, unit, through: appliedThrough } = factor;
  const added = after(
    withReservoirs(plan, factor),
    bind(addFactor, { name, kind: 'randomised', unit, levels }),
  );
  const made = trialIn(added).factors.at(-1);
  if (!made) throw new Refusal(`${name} could not be added.`);
  const factorId = made.id;
  return after(
    added,
    bind(editFactor, { factorId, patch: { appliedThrough } }),
    ...made.levels.flatMap((level) => {
      const settings = settingsIn(factor, level.name);
      return settings ? [bind(setLevelSettings, { factorId, levelId: level.id, settings })] : [];
    }),
  );
}

/** Water that differs needs reservoirs: one for each shelf or tray, or one for each level. */
function withReservoirs(plan: Plan, { through, unit, levels }: QuickFactor): Plan {
  if (through !== 'water' || plan.flood) return plan;
  const shelves = plan.rack.shelves.map(({ trays }) => trays.map(({ id }) => id));
  const trays = shelves.flat();
  const served = unit === 'tray' ? trays.map((id) => [id]) : shelves;
  const zones =
    unit === 'zone'
      ? levels.map((_, i) => served.filter((_own, n) => n % levels.length === i).flat())
      : served;
  return change(plan, (draft) => {
    const flood = newFlood('z0', plan.rack);
    const [like] = flood.zones;
    if (!like) return;
    draft.flood = {
      ...flood,
      zones: zones
        .filter((own) => own.length > 0)
        .map((trayIds, i) => ({
          ...like,
          id: takeIdFrom(draft, 'zone'),
          name: `reservoir ${i + 1}`,
          trayIds,
        })),
    };
  });
}

function withMeasurements(plan: Plan, { measured, main }: QuickAnswers): Plan {
  const usual = trialIn(plan).measurements.map(({ id }) => id);
  const wanted = measured.flatMap(({ name, kind, unit, start, between, harvest }) =>
    (['start', 'interim', 'harvest'] as const)
      .filter((at) => ({ start, interim: between, harvest })[at])
      .map((timepoint) => bind(addMeasurement, { name, timepoint, measurement: { kind, unit } })),
  );
  const bare = after(
    plan,
    ...usual.map((measurementId) => bind(removeMeasurement, { measurementId })),
  );
  const made = after(bare, ...wanted);
  const answer = trialIn(made).measurements.find(
    ({ name, timepoint }) => name === main && timepoint === 'harvest',
  );
  return after(made, bind(editTrial, { patch: { primaryOutcomeId: answer?.id ?? null } }));
}
