import * as Plot from '@observablehq/plot';
import { useMemo } from 'react';
import type { Trial } from '../../../shared-types/trial';
import { powersOf, type FactorPower } from '../../derive';
import { editTrial } from '../../document/commands';
import { useDispatch, usePlanStore } from '../../store/context';
import { Button, FieldRow, Figure, figures, fixed, NumberField, Section, Table } from '../../ui';

const unitWord = { shelf: 'shelves', tray: 'trays', pot: 'pots' } as const;

/** Whether the trial is large enough, told from the spread that is expected. */
export function PowerSection({ trial }: { trial: Trial }) {
  const plan = usePlanStore((s) => s.plan);
  const dispatch = useDispatch();
  if (!plan) return null;
  const { expected } = trial;
  const unit = trial.measurements.find((m) => m.id === trial.primaryMeasurementId)?.unit ?? '';
  if (!expected) {
    return (
      <Section title="Is it large enough?">
        <p className="field-remark">
          Say how much plants treated alike differ, and which difference would matter to you. Take
          the spread from a pilot or from an earlier trial’s findings, never from this trial.
        </p>
        <div className="section-actions">
          <Button
            onClick={() =>
              dispatch(editTrial, {
                patch: { expected: { plantSd: 1, unitSd: 0, smallestDifference: 1, power: 0.8 } },
              })
            }
          >
            Say what is expected
          </Button>
        </div>
      </Section>
    );
  }
  const patch = (change: Partial<typeof expected>) =>
    dispatch(editTrial, { patch: { expected: { ...expected, ...change } } });
  const powers = powersOf(plan);
  return (
    <Section title="Is it large enough?" testId="power">
      <FieldRow>
        <NumberField
          label="Spread between plants, SD"
          unit={unit}
          value={expected.plantSd}
          lowest={1e-6}
          onCommit={(plantSd) => patch({ plantSd })}
        />
        <NumberField
          label="and between trays or shelves, SD"
          unit={unit}
          value={expected.unitSd}
          lowest={0}
          onCommit={(unitSd) => patch({ unitSd })}
        />
        <NumberField
          label="Smallest difference that matters"
          unit={unit}
          value={expected.smallestDifference}
          lowest={1e-6}
          onCommit={(smallestDifference) => patch({ smallestDifference })}
        />
        <NumberField
          label="Found with probability"
          value={expected.power}
          lowest={0.1}
          highest={0.999}
          step={0.05}
          onCommit={(power) => patch({ power })}
        />
      </FieldRow>
      {!powers.ok ? (
        <p className="field-problem">{powers.reason}</p>
      ) : powers.value.length > 0 ? (
        <>
          <Table<FactorPower>
            caption={`Power to find a difference of ${expected.smallestDifference} ${unit} between two levels`}
            showCaption
            rows={powers.value}
            rowKey={(row) => row.factorId}
            columns={[
              { key: 'name', head: 'Factor', cell: (row) => row.name },
              {
                key: 'units',
                head: 'Units a level',
                numeric: true,
                cell: (row) => `${row.unitsPerLevel} ${unitWord[row.unit]}`,
              },
              {
                key: 'power',
                head: 'Power',
                numeric: true,
                cell: (row) => (row.power === null ? 'no test' : fixed(row.power, 2)),
              },
              {
                key: 'detectable',
                head: `Found with ${fixed(expected.power, 2)}`,
                unit,
                numeric: true,
                cell: (row) => (row.detectable === null ? '–' : figures(row.detectable, 3)),
              },
              {
                key: 'enough',
                head: 'Units that would do',
                numeric: true,
                cell: (row) => (row.enough === null ? 'more' : String(row.enough)),
              },
            ]}
          />
          <PowerCurves powers={powers.value} wanted={expected.power} />
        </>
      ) : null}
    </Section>
  );
}

function PowerCurves(props: { powers: readonly FactorPower[]; wanted: number }) {
  const { powers, wanted } = props;
  const options = useMemo((): Plot.PlotOptions => {
    const points = powers.flatMap((factor) =>
      factor.curve.flatMap((point) =>
        point.power === null
          ? []
          : [{ factor: factor.name, units: point.unitsPerLevel, power: point.power }],
      ),
    );
    const now = powers.flatMap((factor) =>
      factor.power === null
        ? []
        : [{ factor: factor.name, units: factor.unitsPerLevel, power: factor.power }],
    );
    return {
      height: 190,
      marginLeft: 44,
      x: { label: 'units a level', grid: false },
      y: { label: 'power', domain: [0, 1], grid: true },
      symbol: { legend: true, label: null },
      marks: [
        Plot.ruleY([wanted], { strokeDasharray: '4 3' }),
        Plot.line(points, { x: 'units', y: 'power', z: 'factor' }),
        Plot.dot(points, { x: 'units', y: 'power', symbol: 'factor', r: 2.5 }),
        Plot.dot(now, { x: 'units', y: 'power', symbol: 'factor', r: 5, fill: 'var(--accent)' }),
      ],
    };
  }, [powers, wanted]);
  return (
    <Figure
      label="Power against units a level for each factor; the large mark is the trial as planned"
      options={options}
    />
  );
}
