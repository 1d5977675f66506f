import type { Plan } from '../../../../shared-types/plan';
import { type Trial } from '../../../../shared-types/trial/trial';
import { positionModels, type PositionModel } from '../../../../shared-types/trial/position';
import { measurementTraits } from '../../../../shared-types/trial/measurement';
import { covariateCautionsOf, positionWordsOf, potsOf, wetDepthByPotOf } from '../../../derive';
import { SCALE_WORDS } from '../../../engine/findings';
import { editMeasurement, editTrial } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { RuleFold } from '../../shared/AnalysisRule';
import { Checkbox, FieldRow, ScaleSelect, Section, Select } from '../../../ui';

/** The rule of the analysis: chosen and fixed before the harvest, so that no answer chooses it. */
export function RuleSection({ plan, trial }: { plan: Plan; trial: Trial }) {
  return (
    <Section title="The planned analysis" testId="rule">
      <RuleFold
        plan={plan}
        trial={trial}
        title={`Place: ${positionWordsOf(plan)[trial.primaryPosition]}`}
        testId="rule-fold"
      >
        <RuleFields plan={plan} trial={trial} />
      </RuleFold>
    </Section>
  );
}

function RuleFields({ plan, trial }: { plan: Plan; trial: Trial }) {
  const dispatch = useDispatch();
  const answers = trial.measurements.find((m) => m.id === trial.primaryOutcomeId);
  const outOfLevel = isOutOfLevel(plan);
  const words = positionWordsOf(plan);
  return (
    <>
      <p className="field-remark">
        The model named here gives the result, whatever the others beside it say. Lock it before the
        harvest: the report tells when that was.
      </p>
      <FieldRow>
        <Select<PositionModel>
          label="Correction for place"
          value={trial.primaryPosition}
          options={positionModels.map((value) => ({ value, label: words[value] }))}
          onCommit={(primaryPosition) => dispatch(editTrial, { patch: { primaryPosition } })}
        />
        {answers && trial.primaryIndex === 'final' ? (
          <ScaleSelect
            value={answers.scale ?? null}
            counts={measurementTraits[answers.kind].whole}
            words={SCALE_WORDS}
            onCommit={(scale) =>
              dispatch(editMeasurement, { measurementId: answers.id, patch: { scale } })
            }
          />
        ) : null}
      </FieldRow>
      <Checkbox
        label="Allow for the plant’s value at the start"
        checked={trial.startCovariate}
        onCommit={(startCovariate) => dispatch(editTrial, { patch: { startCovariate } })}
      />
      {outOfLevel || trial.wetDepthCovariate ? (
        <Checkbox
          label="Allow for the depth of water at each pot: a tray is out of level"
          checked={trial.wetDepthCovariate ?? false}
          testId="wet-depth"
          onCommit={(wetDepthCovariate) => dispatch(editTrial, { patch: { wetDepthCovariate } })}
        />
      ) : null}
      {covariateCautionsOf(plan).map((caution) => (
        <p key={caution} className="field-remark">
          {caution}
        </p>
      ))}
    </>
  );
}

/** Depth within a tray, mm, below which it counts as level. */
const LEVEL_MM = 0.5;

function isOutOfLevel(plan: Plan): boolean {
  const depths = wetDepthByPotOf(plan);
  const byTray = new Map<string, number[]>();
  for (const pot of potsOf(plan)) {
    const depth = depths.get(pot.id);
    if (depth !== undefined) byTray.set(pot.trayId, [...(byTray.get(pot.trayId) ?? []), depth]);
  }
  return [...byTray.values()].some((own) => Math.max(...own) - Math.min(...own) > LEVEL_MM);
}
