import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { PositionModel, Scale, Trial } from '../../../shared-types/trial';
import { POSITION_WORDS, potsOf, SCALE_WORDS, wetDepthByPotOf } from '../../derive';
import { editMeasurement, editTrial, fixRule, releaseRule } from '../../document/commands';
import { measurementLabel } from '../../document/queries/names';
import { useDispatch } from '../../store/context';
import { Button, Checkbox, FieldRow, Section, Select, TextField, today } from '../../ui';

const MODELS = Object.keys(POSITION_WORDS) as PositionModel[];
const SCALES = Object.keys(SCALE_WORDS) as Scale[];

/** The rule of the analysis: chosen and fixed before the harvest, so that no answer chooses it. */
export function RuleSection({ plan, trial }: { plan: Plan; trial: Trial }) {
  const fixed = trial.ruleFixed;
  return (
    <Section title="The rule of the analysis" testId="rule">
      {fixed ? (
        <FixedRule trial={trial} fixed={fixed} />
      ) : (
        <details className="fold" data-testid="rule-fold">
          <summary>Not fixed yet: position by {POSITION_WORDS[trial.primaryPosition]}</summary>
          <OpenRule plan={plan} trial={trial} />
        </details>
      )}
    </Section>
  );
}

function FixedRule(props: { trial: Trial; fixed: NonNullable<Trial['ruleFixed']> }) {
  const { trial, fixed } = props;
  const dispatch = useDispatch();
  const [reason, setReason] = useState('');
  const answers = trial.measurements.find((m) => m.id === trial.primaryMeasurementId);
  const parts = [
    ...(answers ? [measurementLabel(answers)] : []),
    ...(answers?.scale ? [`as ${SCALE_WORDS[answers.scale]}`] : []),
    `position by ${POSITION_WORDS[trial.primaryPosition]}`,
    ...(trial.startCovariate ? ['the value at the start allowed for'] : []),
    ...(trial.wetDepthCovariate ? ['the depth of water allowed for'] : []),
  ];
  return (
    <details className="fold">
      <summary>
        Fixed on {fixed.date},{' '}
        {fixed.valuesThen === 0
          ? 'before any value was recorded'
          : `with ${fixed.valuesThen} values recorded already`}
      </summary>
      <p>{parts.join('; ')}.</p>
      <FieldRow>
        <TextField
          label="Reason for releasing it, kept among the incidents"
          value={reason}
          mayBeEmpty
          onCommit={setReason}
        />
      </FieldRow>
      <div className="section-actions">
        <Button
          disabled={reason.trim() === ''}
          data-testid="release-rule"
          onClick={() => dispatch(releaseRule, { date: today(), reason })}
        >
          Release the rule
        </Button>
      </div>
    </details>
  );
}

function OpenRule({ plan, trial }: { plan: Plan; trial: Trial }) {
  const dispatch = useDispatch();
  const answers = trial.measurements.find((m) => m.id === trial.primaryMeasurementId);
  const outOfLevel = isOutOfLevel(plan);
  return (
    <>
      <p className="field-remark">
        The model named here answers, whatever the others beside it say. Fix it before the harvest:
        the report tells when that was.
      </p>
      <FieldRow>
        <Select<PositionModel>
          label="Position is allowed for by"
          value={trial.primaryPosition}
          options={MODELS.map((value) => ({ value, label: POSITION_WORDS[value] }))}
          onCommit={(primaryPosition) => dispatch(editTrial, { patch: { primaryPosition } })}
        />
        {answers && trial.primaryIndex === 'final' ? (
          <ScaleSelect
            value={answers.scale ?? null}
            counts={answers.kind === 'count'}
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
      <div className="section-actions">
        <Button
          data-testid="fix-rule"
          disabled={trial.primaryMeasurementId === null}
          onClick={() => dispatch(fixRule, { date: today() })}
        >
          Fix the rule, today
        </Button>
      </div>
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

/** On which scale a measurement is analysed; counts get the models that are made for them. */
export function ScaleSelect(props: {
  value: Scale | null;
  counts: boolean;
  onCommit: (scale: Scale | undefined) => void;
}) {
  const offered = SCALES.filter(
    (scale) => props.counts || scale === 'sqrt' || scale === 'log' || scale === props.value,
  );
  return (
    <Select<Scale | 'measured'>
      label="Analysed as"
      value={props.value ?? 'measured'}
      testId="scale"
      options={[
        { value: 'measured', label: 'measured' },
        ...offered.map((value) => ({ value, label: SCALE_WORDS[value] })),
      ]}
      onCommit={(scale) => props.onCommit(scale === 'measured' ? undefined : scale)}
    />
  );
}
