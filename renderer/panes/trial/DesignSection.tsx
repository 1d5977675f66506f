import type { Trial } from '../../../shared-types/trial';
import { editTrial, setBlocks, setScheme } from '../../document/commands';
import { type FactorUnits, type SkeletonRow, unitsOfPlan } from '../../derive';
import { useDispatch, usePlanStore } from '../../store/context';
import { FieldRow, NumberField, Section, Select, SeverityMark, Table } from '../../ui';
import { blockOptions, blocksFor, schemeOptions } from './words';

/** Blocks and scheme, and what analysis they lead to, before anything is planted. */
export function DesignSection({ trial }: { trial: Trial }) {
  const plan = usePlanStore((s) => s.plan);
  const dispatch = useDispatch();
  if (!plan) return null;
  const units = unitsOfPlan(plan);
  const { blocks } = trial;
  return (
    <>
      <Section title="Blocks and scheme">
        <FieldRow>
          <Select
            label="Blocks"
            value={blocks.by}
            options={blockOptions}
            testId="blocks-by"
            onCommit={(by) => dispatch(setBlocks, { blocks: blocksFor(by) })}
          />
          {blocks.by === 'rows' || blocks.by === 'columns' ? (
            <NumberField
              label={`${blocks.by === 'rows' ? 'Rows' : 'Columns'} a block`}
              whole
              lowest={1}
              highest={200}
              value={blocks.perBlock}
              onCommit={(perBlock) => dispatch(setBlocks, { blocks: { by: blocks.by, perBlock } })}
            />
          ) : null}
          {blocks.by === 'light' ? (
            <NumberField
              label="Bands"
              whole
              lowest={2}
              highest={200}
              value={blocks.bands}
              onCommit={(bands) => dispatch(setBlocks, { blocks: { by: 'light', bands } })}
            />
          ) : null}
          <Select
            label="Scheme"
            value={trial.scheme}
            options={schemeOptions}
            testId="scheme"
            onCommit={(scheme) => dispatch(setScheme, { scheme })}
          />
        </FieldRow>
        <FieldRow>
          <Select
            label="Position enters the analysis as"
            value={trial.primaryPosition}
            remark="Fixed here before harvest; the findings try the others beside it."
            options={[
              { value: 'none', label: 'nothing' },
              { value: 'edge', label: 'edge or inner pot' },
              { value: 'light', label: 'light at the pot' },
              { value: 'linear', label: 'a slope over rows and columns' },
              { value: 'rows+columns', label: 'rows and columns' },
              { value: 'smooth', label: 'a smooth surface' },
              { value: 'ar1', label: 'likeness of neighbours' },
            ]}
            onCommit={(primaryPosition) => dispatch(editTrial, { patch: { primaryPosition } })}
          />
          <NumberField
            label="False alarms accepted"
            value={trial.alpha}
            lowest={0.001}
            highest={0.5}
            step={0.01}
            onCommit={(alpha) => dispatch(editTrial, { patch: { alpha } })}
          />
        </FieldRow>
      </Section>
      <Section title="What it can be judged by" testId="skeleton">
        {!units.ok ? (
          <p className="field-problem">{units.reason}</p>
        ) : units.value.factors.length === 0 ? (
          <p className="field-remark">Nothing is compared yet.</p>
        ) : (
          <>
            <ul className="verdicts">
              {units.value.factors.map((factor) => (
                <li key={factor.factorId}>
                  {factor.replicated ? null : <SeverityMark severity="stop" size={14} />}
                  <span>{verdict(factor)}</span>
                </li>
              ))}
            </ul>
            <Table<SkeletonRow>
              caption="The analysis of variance as it is fixed before planting"
              showCaption
              rows={units.value.skeleton}
              rowKey={(row) => `${row.stratum} ${row.source}`}
              columns={[
                {
                  key: 'source',
                  head: 'Source',
                  cell: (row) => (row.isError ? <em>{row.source}</em> : row.source),
                },
                { key: 'stratum', head: 'Varies among', cell: (row) => row.stratum },
                { key: 'df', head: 'df', numeric: true, cell: (row) => row.df },
              ]}
            />
          </>
        )}
      </Section>
    </>
  );
}

function verdict(factor: FactorUnits): string {
  const counts = factor.unitsPerLevel.map((level) => level.units);
  const least = Math.min(...counts);
  const most = Math.max(...counts);
  const units = factor.unit === 'shelf' ? 'shelves' : `${factor.unit}s`;
  const each = least === most ? `${least}` : `${least} to ${most}`;
  if (factor.replicated) {
    return `${factor.name}: ${each} ${least === 1 && most === 1 ? factor.unit : units} a level, judged by the variation ${factor.errorTerm} with ${factor.errorDf} df.`;
  }
  return `${factor.name} is not replicated: ${each} ${least === 1 && most === 1 ? factor.unit : units} a level and ${factor.errorDf} df of error. A difference between these ${units} could be the ${units}.`;
}
