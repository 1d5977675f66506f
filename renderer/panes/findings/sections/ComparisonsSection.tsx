import { useState } from 'react';
import { controlOf, type FactorRole, type Findings } from '../../../engine/findings';
import { setControl } from '../../../document/commands';
import {
  adjustmentWords,
  comparisonTable,
  contrastTable,
  effectSizeTable,
  type Comparison,
} from '../../../print/report';
import { useDispatch } from '../../../store/context';
import { Select, FieldRow } from '../../../ui';
import { ContrastEditor } from './ContrastEditor';
import { FoldedPart } from '../parts/FoldedPart';
import { comparisonsSummary } from '../parts/summaries';
import { TableView } from '../parts/TableView';

type Method = Comparison['method'];

/** Which levels differ, by how much: all pairs, against a control, as planned. */
export function ComparisonsSection(props: { findings: Findings; editable: boolean }) {
  const { findings } = props;
  if (findings.design.tested.length === 0) return null;
  return (
    <FoldedPart title="Comparisons" said={comparisonsSummary(findings)} name="comparisons">
      <TableView table={contrastTable(findings)} testId="planned-comparisons" />
      {findings.design.tested.map((role) => (
        <FactorComparisons key={role.column} role={role} {...props} />
      ))}
    </FoldedPart>
  );
}

function FactorComparisons(props: { findings: Findings; role: FactorRole; editable: boolean }) {
  const { findings, role, editable } = props;
  const dispatch = useDispatch();
  const [asked, setAsked] = useState<Method | null>(null);
  const [by, setBy] = useState('');
  const own = findings.primary.result.comparisons.filter(
    (c) => c.of.length === 1 && c.of[0] === role.column,
  );
  const overAll = own.filter((c) => c.by.length === 0);
  const methods = overAll.map((c) => c.method);
  const usual = controlOf(role) !== null && methods.includes('dunnett') ? 'dunnett' : 'tukey';
  const method = asked !== null && methods.includes(asked) ? asked : usual;
  const others = [...new Set(own.flatMap((c) => c.by))];
  const withBy = others.includes(by) ? by : '';
  const shown =
    own.find((c) => c.method === method && (c.by[0] ?? '') === withBy) ??
    own.find((c) => c.method === usual && (c.by[0] ?? '') === withBy);
  const { factor } = role;
  return (
    <div className="findings-factor">
      <h4>{factor.name}</h4>
      <FieldRow>
        <Select<Method>
          label="Compare"
          value={method}
          options={overAll.map((c) => ({ value: c.method, label: adjustmentWords(c) }))}
          onCommit={setAsked}
        />
        {others.length > 0 ? (
          <Select
            label="At each level of"
            value={withBy}
            options={[
              { value: '', label: '(over all)' },
              ...others.map((name) => ({ value: name, label: name })),
            ]}
            onCommit={setBy}
          />
        ) : null}
        {editable ? (
          <Select
            label="Control"
            value={factor.control ?? ''}
            options={[
              { value: '', label: '(none)' },
              ...factor.levels.map((level) => ({ value: level.id, label: level.name })),
            ]}
            onCommit={(levelId) =>
              dispatch(setControl, { factorId: factor.id, levelId: levelId || null })
            }
            testId={`control-${factor.name}`}
          />
        ) : null}
      </FieldRow>
      {shown ? <TableView table={comparisonTable(findings, shown)} /> : null}
      {shown ? <TableView table={effectSizeTable(findings, shown)} testId="effect-sizes" /> : null}
      {editable ? <ContrastEditor factor={factor} /> : null}
    </div>
  );
}
