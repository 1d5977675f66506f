import { quickPotHeightMm } from '../../document/quickStart';
import { Fold } from '../../ui';
import { PresetRow } from '../shared/presets/PresetRow';
import type { QuickPart } from './ProblemAt';

/** Shelves and pots of one's own, to take again or to keep; own lamps stand among the others. */
export function OwnPresets({ answers, onChange }: QuickPart) {
  const { widthMm, depthMm, clearanceMm, potMm } = answers;
  return (
    <Fold title="Own sizes" testId="quick-presets">
      <div className="quick-presets">
        <PresetRow kind="shelf" current={{ widthMm, depthMm, clearanceMm }} onTake={onChange} />
        <PresetRow
          kind="pot"
          current={{ potDiameterMm: potMm, potHeightMm: quickPotHeightMm(answers) }}
          onTake={({ potDiameterMm, potHeightMm }) =>
            onChange({ potMm: potDiameterMm, potHeightMm })
          }
        />
      </div>
    </Fold>
  );
}
