import { useState } from 'react';
import { unitWords, type Factor } from '../../../shared-types/trial/trial';
import {
  addFactor,
  addLevel,
  editFactor,
  removeFactor,
  removeLevel,
  renameLevel,
  setTimes,
} from '../../document/commands';
import { FixedLevels } from './FixedLevels';
import { useDispatch, usePlanStore } from '../../store/context';
import { Button, FieldRow, Fold, NumberField, Section, Select, TextField } from '../../ui';
import { LevelSettingsFields } from './levels/LevelSettingsFields';
import { applicationOptions, unitOptions } from './words';

/** What is compared, in which levels, and on which unit each level is laid. */
export function FactorsSection(props: { factors: readonly Factor[] }) {
  const dispatch = useDispatch();
  return (
    <Section
      title="What is compared"
      testId="factors"
      actions={
        <Button
          onClick={() =>
            dispatch(addFactor, {
              name: freeName(props.factors),
              kind: 'randomised',
              unit: 'pot',
              levels: ['level 1', 'level 2'],
            })
          }
        >
          Add factor
        </Button>
      }
    >
      {props.factors.length === 0 ? (
        <p className="field-remark">
          Without a factor all plants are treated alike: the findings then show what place alone
          does. Add a factor to compare treatments.
        </p>
      ) : null}
      {props.factors.map((factor) => (
        <div key={factor.id} data-ref={`factor:${factor.id}`}>
          <FactorCard factor={factor} />
        </div>
      ))}
    </Section>
  );
}

function FactorCard({ factor }: { factor: Factor }) {
  const dispatch = useDispatch();
  const factorId = factor.id;
  // A new factor is there to be filled in.
  const [open, setOpen] = useState(factor.levels.some((level) => /^level \d+$/.test(level.name)));
  const unit = unitWords[factor.unit].many;
  return (
    <Fold
      look="card"
      title={
        <>
          <strong>{factor.name}</strong> on {unit}, {factor.kind === 'fixed' ? 'fixed' : 'shuffled'}
          :
        </>
      }
      said={factor.levels.map(levelWords).join(' · ')}
      open={open}
      onToggle={setOpen}
    >
      <fieldset>
        <legend className="visually-hidden">Factor {factor.name}</legend>
        <FactorFields factor={factor} />
        <LevelList factor={factor} />
        <div className="section-actions">
          <Button
            tone="quiet"
            onClick={() =>
              dispatch(addLevel, { factorId, name: `level ${factor.levels.length + 1}` })
            }
          >
            Add level
          </Button>
          <Button tone="quiet" onClick={() => dispatch(removeFactor, { factorId })}>
            Remove factor
          </Button>
        </div>
        <LevelSettingsFields factor={factor} />
        {factor.kind === 'fixed' ? <FixedLevels factor={factor} /> : null}
      </fieldset>
    </Fold>
  );
}

/** What the factor is, and what each of its levels is applied through and to. */
function FactorFields({ factor }: { factor: Factor }) {
  const plan = usePlanStore((s) => s.plan);
  const dispatch = useDispatch();
  const edit = (patch: Parameters<typeof editFactor.run>[1]['patch']) =>
    dispatch(editFactor, { factorId: factor.id, patch });
  return (
    <>
      <FieldRow>
        <TextField label="Factor" value={factor.name} onCommit={(name) => edit({ name })} />
        <Select
          label="Levels are"
          value={factor.kind}
          options={[
            { value: 'randomised', label: 'shuffled' },
            { value: 'fixed', label: 'fixed by you' },
          ]}
          onCommit={(kind) => edit({ kind })}
        />
      </FieldRow>
      <FieldRow>
        <Select
          label="Applied through"
          value={factor.appliedThrough ?? 'unsaid'}
          options={applicationOptions}
          onCommit={(through) => edit({ appliedThrough: through === 'unsaid' ? null : through })}
        />
        <Select
          label="Own treatment for each"
          value={factor.unit}
          options={unitOptions(plan, factor.unit)}
          onCommit={(unit) => edit({ unit })}
        />
      </FieldRow>
    </>
  );
}

/** The levels by name and, where they are shuffled, how often each is drawn. */
function LevelList({ factor }: { factor: Factor }) {
  const dispatch = useDispatch();
  const factorId = factor.id;
  const shuffled = factor.kind === 'randomised';
  return (
    <>
      <ul className={shuffled ? 'levels trial-levels' : 'levels'}>
        {factor.levels.map((level, index) => (
          <li key={level.id}>
            <TextField
              label={`Level ${index + 1}`}
              value={level.name}
              onCommit={(name) => dispatch(renameLevel, { factorId, levelId: level.id, name })}
            />
            {shuffled ? (
              <NumberField
                label="Times"
                value={level.times ?? 1}
                whole
                lowest={1}
                highest={50}
                testId={`times-${index + 1}`}
                onCommit={(times) => dispatch(setTimes, { factorId, levelId: level.id, times })}
              />
            ) : null}
            <Button
              tone="quiet"
              aria-label={`Remove level ${level.name}`}
              onClick={() => dispatch(removeLevel, { factorId, levelId: level.id })}
            >
              Remove
            </Button>
          </li>
        ))}
      </ul>
      {shuffled ? (
        <p className="field-remark">
          Times: how often a level is drawn where the others are drawn once, such as 2 for a control
          that all are compared with.
        </p>
      ) : null}
    </>
  );
}

const levelWords = ({ name, times = 1 }: Factor['levels'][number]): string =>
  times === 1 ? name : `${name} (${times} times)`;

function freeName(factors: readonly Factor[]): string {
  let number = factors.length + 1;
  while (factors.some((factor) => factor.name === `factor ${number}`)) number++;
  return `factor ${number}`;
}
