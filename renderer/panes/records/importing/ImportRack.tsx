import { useId, useMemo, useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { RackCanvas } from '../../../canvas';
import { measurementLabel } from '../../../document/queries';
import type { TablePreview } from '../../../document/records';
import { useSession } from '../../../store/context';
import { patternPath, Select } from '../../../ui';
import {
  FATE_PAINT,
  FATE_WORDS,
  importFates,
  previewedMeasurements,
  previewLook,
  type ImportFate,
} from './previewLook';

/** The rack as the table would fill it. */
export function ImportRack({ plan, preview }: { plan: Plan; preview: TablePreview }) {
  const offered = useMemo(() => previewedMeasurements(plan, preview), [plan, preview]);
  const [chosen, setChosen] = useState<string | null>(null);
  const measurement = offered.find(({ id }) => id === chosen) ?? offered[0] ?? null;
  const { look, counts } = useMemo(
    () => previewLook(plan, preview, measurement),
    [plan, preview, measurement],
  );
  const hover = useSession((s) => s.hover);
  if (preview.problem !== null || (measurement === null && counts.marked === 0)) return null;
  return (
    <section className="import-rack" aria-label="On the rack" data-testid="import-rack">
      {offered.length > 1 && measurement ? (
        <Select
          label="On the rack"
          testId="import-rack-of"
          value={measurement.id}
          options={offered.map((m) => ({ value: m.id, label: measurementLabel(m) }))}
          onCommit={setChosen}
        />
      ) : null}
      <div className="import-rack-picture">
        <RackCanvas
          look={look}
          beside={`what the table would put in${measurement ? `: ${measurementLabel(measurement)}` : ''}`}
          onInspect={() => undefined}
        />
      </div>
      <p className="import-rack-legend">
        {importFates
          .filter((fate) => counts[fate] > 0)
          .map((fate) => (
            <span key={fate} className="legend-item" data-testid={`import-fate-${fate}`}>
              <FateSign fate={fate} /> {counts[fate]} {FATE_WORDS[fate]}
            </span>
          ))}
      </p>
      <p className="field-remark import-rack-hover">
        {hover ?? 'Point at a pot to read its value.'}
      </p>
    </section>
  );
}

function FateSign({ fate }: { fate: ImportFate }) {
  const id = useId();
  const { fill, ink, pattern } = FATE_PAINT[fate];
  return (
    <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
      <defs>
        <pattern id={id} width="8" height="8" patternUnits="userSpaceOnUse">
          <path d={patternPath(pattern ?? 'plain')} stroke={ink} strokeOpacity="0.55" fill="none" />
        </pattern>
      </defs>
      <circle cx="8" cy="8" r="7" fill={fill} />
      <circle cx="8" cy="8" r="7" fill={`url(#${id})`} stroke="var(--line-strong)" />
    </svg>
  );
}
