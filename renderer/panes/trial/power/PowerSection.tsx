import type { Trial } from '../../../../shared-types/trial/trial';
import { powersOf } from '../../../derive';
import type { TermPower } from '../../../engine/trial';
import { assumedWords } from '../../../engine/trial';
import { editTrial } from '../../../document/commands';
import { useDispatch, usePlanStore } from '../../../store/context';
import { FieldRow, NumberField, Section, Table } from '../../../ui';
import { PowerCurve } from './PowerCurve';
import { SpreadSource } from './SpreadSource';
import { unitWords } from '../../../../shared-types/trial/trial';
import { figures, fixed, formatShare, fieldNumber } from '../../../words';

type Expected = NonNullable<Trial['expected']>;

/** Whether the trial is large enough, told from the spread that is expected. */
export function PowerSection({ trial }: { trial: Trial }) {
  const plan = usePlanStore((s) => s.plan);
  const dispatch = useDispatch();
  if (!plan) return null;
  const { expected } = trial;
  const unit = trial.measurements.find((m) => m.id === trial.primaryOutcomeId)?.unit ?? '';
  const patch = (change: Partial<Expected>) =>
    dispatch(editTrial, { patch: { expected: { ...start(expected), ...change } } });
  const source = <SpreadSource unit={unit} onSpread={patch} />;
  if (!expected) {
    return (
      <Section title="Is it large enough?" testId="power">
        <p className="field-remark">
          Say how much plants treated alike differ. Take that from a pilot or from an earlier trial,
          never from this one.
        </p>
        <FieldRow>
          <NumberField
            label="Typical difference between equal plants (SD)"
            unit={unit}
            value={null}
            lowest={1e-6}
            testId="plant-sd"
            onCommit={(plantSd) => patch({ plantSd, smallestDifference: plantSd })}
          />
        </FieldRow>
        {source}
      </Section>
    );
  }
  const powers = powersOf(plan);
  return (
    <Section title="Is it large enough?" testId="power">
      <ExpectedFields expected={expected} unit={unit} alpha={trial.alpha} onChange={patch} />
      {source}
      {!powers.ok ? (
        <p className="field-problem">{powers.reason}</p>
      ) : powers.value.length > 0 ? (
        <>
          <ul className="verdicts">
            {powers.value
              .filter((term) => term.factorIds.length === 1)
              .map((term) => (
                <li key={term.name}>{verdict(term, expected, unit)}</li>
              ))}
          </ul>
          <PowerTable powers={powers.value} expected={expected} unit={unit} />
          <PowerCurve powers={powers.value} wanted={expected.power} />
        </>
      ) : null}
    </Section>
  );
}

function ExpectedFields(props: {
  expected: Expected;
  unit: string;
  alpha: number;
  onChange: (patch: Partial<Expected>) => void;
}) {
  const { expected, unit, alpha, onChange } = props;
  return (
    <>
      <FieldRow>
        <NumberField
          label="Typical difference between equal plants (SD)"
          unit={unit}
          value={expected.plantSd}
          lowest={1e-6}
          testId="plant-sd"
          onCommit={(plantSd) => onChange({ plantSd })}
        />
        <NumberField
          label="Between equal trays or shelves (SD)"
          unit={unit}
          value={expected.unitSd}
          lowest={0}
          testId="unit-sd"
          {...(expected.unitSd === null
            ? { remark: 'Assumed until you say it; 0 only if known.' }
            : {})}
          onCommit={(unitSd) => onChange({ unitSd })}
        />
      </FieldRow>
      <FieldRow>
        <NumberField
          label="Smallest difference that matters"
          unit={unit}
          value={expected.smallestDifference}
          lowest={1e-6}
          testId="difference"
          onCommit={(smallestDifference) => onChange({ smallestDifference })}
        />
        <NumberField
          label="Chance of finding it"
          value={expected.power}
          lowest={Math.min(0.99, Math.max(0.1, alpha + 0.01))}
          highest={0.999}
          step={0.05}
          onCommit={(power) => onChange({ power })}
        />
      </FieldRow>
    </>
  );
}

function start(expected: Trial['expected']): Expected {
  return expected ?? { plantSd: 1, unitSd: null, smallestDifference: 1, power: 0.8 };
}

const counted = (count: number, unit: TermPower['unit']): string =>
  `${count} ${count === 1 ? unitWords[unit].one : unitWords[unit].many}`;

function verdict(term: TermPower, expected: Expected, unit: string): string {
  if (term.power === null)
    return `${term.name} cannot be tested here, however large the difference.`;
  const difference =
    `a difference of ${fieldNumber(expected.smallestDifference)} ${unit}`.trimEnd();
  const assumed = assumedWords(term.unit, expected, unit);
  const chance = `${formatShare(term.power)} of trials${assumed === '' ? '' : ` (${assumed})`}`;
  if (term.power >= expected.power) {
    return `${term.name}: large enough. It would find ${difference} in ${chance}.`;
  }
  const needs =
    term.enough === null
      ? 'no number of units looked at would do'
      : `${counted(term.enough, term.unit)} a level would do, the rack holds ${term.unitsPerLevel}`;
  return `${term.name}: too small. It would find ${difference} in only ${chance}; ${needs}.`;
}

function PowerTable(props: { powers: readonly TermPower[]; expected: Expected; unit: string }) {
  const { powers, expected, unit } = props;
  return (
    <>
      <Table<TermPower>
        caption={`Power to find a difference of ${fieldNumber(expected.smallestDifference)} ${unit}`.trimEnd()}
        showCaption
        testId="power-table"
        rows={powers}
        rowKey={(row) => row.factorIds.join('+')}
        columns={[
          { key: 'name', head: 'Term', cell: (row) => row.name },
          {
            key: 'df',
            head: 'df',
            numeric: true,
            cell: (row) => `${row.dfEffect}, ${Math.max(0, row.dfError)}`,
          },
          {
            key: 'power',
            head: 'Power',
            numeric: true,
            cell: (row) => (row.power === null ? 'no test' : fixed(row.power, 2)),
          },
          {
            key: 'detectable',
            head: 'Finds',
            unit,
            numeric: true,
            cell: (row) => (row.detectable === null ? '–' : figures(row.detectable, 3)),
          },
          {
            key: 'here',
            head: 'Here',
            unit: 'a level',
            numeric: true,
            cell: (row) => counted(row.unitsPerLevel, row.unit),
          },
          {
            key: 'enough',
            head: 'Needed',
            unit: 'a level',
            numeric: true,
            cell: (row) => (row.enough === null ? '–' : String(row.enough)),
          },
        ]}
      />
      <p className="field-remark">
        “Finds” is the difference found with a power of {fixed(expected.power, 2)}. For an
        interaction it is a difference between differences, and units are counted by combination of
        levels.
      </p>
    </>
  );
}
