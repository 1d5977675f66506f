import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import {
  labelPresets,
  labelsPerSheet,
  presetName,
  symbolHasRoom,
  type LabelGeometry,
  type LabelOptions,
  type PrintOptions,
} from '../../print';
import { Checkbox, LengthField, NumberField, Select } from '../../ui';

const OTHER = 'other';

/** Sheet of labels, what stands on them, where to begin and how far the printer shifts. */
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
  const length = (label: string, key: LengthKey, lowestMm = 0) => (
    <LengthField
      label={label}
      system={system}
      valueMm={geometry[key]}
      lowestMm={lowestMm}
      highestMm={300}
      onCommit={(mm) => change({ [key]: mm })}
    />
  );
  const cells = geometry.columns * geometry.rows;
  const perSheet = labelsPerSheet(geometry, paper);
  const room = symbolHasRoom(plan, options);
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
        <Select
          label="On each label"
          value={labels.show}
          options={[
            { value: 'treatment', label: options.blinded ? 'pot and code' : 'pot and treatment' },
            { value: 'pot', label: 'pot alone' },
          ]}
          onCommit={(show) => onChange({ show })}
        />
        <Select
          label="Code for cameras"
          value={labels.symbol}
          options={[
            { value: 'qr', label: 'QR' },
            { value: 'data-matrix', label: 'Data Matrix' },
            { value: 'none', label: 'none' },
          ]}
          remark={room ? undefined : 'no room on these labels'}
          onCommit={(symbol) => onChange({ symbol })}
          testId="label-symbol"
        />
      </div>
      <div className="chart-choices">
        <NumberField
          label="First cell"
          value={labels.startCell}
          lowest={1}
          highest={cells}
          whole
          onCommit={(startCell) => onChange({ startCell })}
          testId="label-start"
        />
        <LengthField
          label="Shift right"
          system={system}
          valueMm={labels.shiftXMm}
          lowestMm={-10}
          highestMm={10}
          onCommit={(shiftXMm) => onChange({ shiftXMm })}
        />
        <LengthField
          label="Shift down"
          system={system}
          valueMm={labels.shiftYMm}
          lowestMm={-10}
          highestMm={10}
          onCommit={(shiftYMm) => onChange({ shiftYMm })}
        />
      </div>
      {own || !known ? (
        <div className="chart-choices" data-testid="label-figures">
          <NumberField
            label="Columns"
            value={geometry.columns}
            lowest={1}
            highest={100}
            whole
            onCommit={(columns) => change({ columns })}
          />
          <NumberField
            label="Rows"
            value={geometry.rows}
            lowest={1}
            highest={100}
            whole
            onCommit={(rows) => change({ rows })}
          />
          {length('Width', 'widthMm', 10)}
          {length('Height', 'heightMm', 10)}
          {length('Gap across', 'gapXMm')}
          {length('Gap down', 'gapYMm')}
          {length('Left margin', 'leftMm')}
          {length('Top margin', 'topMm')}
          <Select
            label="Shape"
            value={geometry.shape}
            options={[
              { value: 'rectangle', label: 'rectangle' },
              { value: 'round', label: 'round' },
              { value: 'stake', label: 'stake' },
            ]}
            onCommit={(shape) => change({ shape })}
          />
          <Checkbox
            label="Lines to cut along"
            checked={geometry.cutLines}
            onCommit={(cutLines) => change({ cutLines })}
          />
        </div>
      ) : null}
    </div>
  );
}

type LengthKey = 'widthMm' | 'heightMm' | 'gapXMm' | 'gapYMm' | 'leftMm' | 'topMm';

function sameGeometry(a: LabelGeometry, b: LabelGeometry): boolean {
  return (Object.keys(a) as (keyof LabelGeometry)[]).every((key) => a[key] === b[key]);
}
