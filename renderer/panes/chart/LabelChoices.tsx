import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import {
  labelPresets,
  labelsPerSheet,
  presetName,
  symbolHasRoom,
  symbolProposed,
  type LabelGeometry,
  type LabelOptions,
  type PrintOptions,
} from '../../print';
import { Button, Checkbox, FieldList, Select, type FieldOf } from '../../ui';

const OTHER = 'other';

/** Sheet of labels, what stands on them and where to begin. */
export function LabelChoices(props: {
  plan: Plan;
  options: PrintOptions;
  onChange: (part: Partial<LabelOptions>) => void;
}) {
  const { plan, options, onChange } = props;
  const { labels, paper } = options;
  const { geometry } = labels;
  const presets = labelPresets.filter((preset) => preset.paper === paper);
  const known = presets.find((preset) => sameGeometry(preset.geometry, geometry));
  const [own, setOwn] = useState(false);
  const change = (part: Partial<LabelGeometry>) =>
    onChange({ geometry: { ...geometry, ...part }, startCell: 1 });
  const system = plan.display.lengths;
  const cells = geometry.columns * geometry.rows;
  const perSheet = labelsPerSheet(geometry, paper);
  return (
    <div className="chart-labels" data-testid="label-choices">
      <div className="chart-choices">
        <Select
          label="Sheet of labels"
          value={own ? OTHER : (known?.id ?? OTHER)}
          options={[
            ...presets.map((preset) => ({ value: preset.id, label: presetName(preset, system) })),
            { value: OTHER, label: 'other figures' },
          ]}
          onCommit={(id) => {
            const preset = presets.find((p) => p.id === id);
            setOwn(!preset);
            if (preset) onChange({ geometry: preset.geometry, startCell: 1 });
          }}
          remark={
            perSheet < cells
              ? `${perSheet} labels a sheet: one place carries title and page number`
              : undefined
          }
          testId="label-preset"
        />
        <OnEachLabel plan={plan} options={options} onChange={onChange} />
        <FieldList
          of={labels}
          fields={placeOn(cells)}
          system={system}
          className="chart-same-row"
          onChange={onChange}
        />
      </div>
      {own || !known ? (
        <FieldList
          of={geometry}
          fields={FIGURES}
          system={system}
          className="chart-choices"
          testId="label-figures"
          onChange={change}
        >
          <Checkbox
            label="Lines to cut along"
            checked={geometry.cutLines}
            onCommit={(cutLines) => change({ cutLines })}
          />
        </FieldList>
      ) : null}
    </div>
  );
}

function OnEachLabel(props: {
  plan: Plan;
  options: PrintOptions;
  onChange: (part: Partial<LabelOptions>) => void;
}) {
  const { plan, options, onChange } = props;
  const { labels, blinded } = options;
  const proposed = symbolProposed(plan, options);
  return (
    <>
      <Select
        label="On each label"
        value={labels.show}
        options={[
          { value: 'treatment', label: blinded ? 'pot and code' : 'pot and treatment' },
          { value: 'pot', label: 'pot alone' },
        ]}
        onCommit={(show) => onChange({ show })}
      />
      <Select
        label="Code to scan"
        value={labels.symbol}
        options={[
          { value: 'qr', label: 'QR' },
          { value: 'data-matrix', label: 'Data Matrix' },
          { value: 'none', label: 'none' },
        ]}
        remark={symbolHasRoom(plan, options) ? undefined : 'no room on these labels'}
        onCommit={(symbol) => onChange({ symbol })}
        testId="label-symbol"
      />
      {proposed ? (
        <Button onClick={() => onChange({ symbol: proposed })} data-testid="label-symbol-proposed">
          Use Data Matrix: it fits
        </Button>
      ) : null}
    </>
  );
}

/** Where to begin. */
function placeOn(cells: number): readonly FieldOf<LabelOptions>[] {
  return [
    {
      as: 'number',
      key: 'startCell',
      label: 'First cell',
      lowest: 1,
      highest: cells,
      whole: true,
      testId: 'label-start',
    },
  ];
}

const COUNT = { as: 'number', lowest: 1, highest: 100, whole: true } as const;
const SIZE = { as: 'length', lowestMm: 10, highestMm: 300 } as const;
const GAP = { as: 'length', lowestMm: 0, highestMm: 300 } as const;

const FIGURES: readonly FieldOf<LabelGeometry>[] = [
  { key: 'columns', label: 'Columns', ...COUNT },
  { key: 'rows', label: 'Rows', ...COUNT },
  { key: 'widthMm', label: 'Width', ...SIZE },
  { key: 'heightMm', label: 'Height', ...SIZE },
  { key: 'gapXMm', label: 'Gap across', ...GAP },
  { key: 'gapYMm', label: 'Gap down', ...GAP },
  { key: 'leftMm', label: 'Left margin', ...GAP },
  { key: 'topMm', label: 'Top margin', ...GAP },
  {
    as: 'choice',
    key: 'shape',
    label: 'Shape',
    options: [
      { value: 'rectangle', label: 'rectangle' },
      { value: 'round', label: 'round' },
      { value: 'stake', label: 'stake' },
    ],
  },
];

function sameGeometry(a: LabelGeometry, b: LabelGeometry): boolean {
  return (Object.keys(a) as (keyof LabelGeometry)[]).every((key) => a[key] === b[key]);
}
