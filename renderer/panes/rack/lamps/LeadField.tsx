import { bind } from '../../../document';
import { leadEnds, type LeadEnd } from '../../../../shared-types/landmarks';
import type { Lamp } from '../../../../shared-types/rack';
import { setLeadEnd } from '../../../document/commands';
import { endSide } from '../../../engine/lamps';
import { Select } from '../../../ui';
import { shared } from '../common';
import { useAct } from '../useAct';

/** Which end of the selected lamps their lead comes out of, called as the first of them hangs. */
export function LeadField({ lamps }: { lamps: readonly Lamp[] }) {
  const act = useAct();
  const turned = lamps[0]?.rotationDeg ?? 0;
  return (
    <Select<LeadEnd | 'unsaid'>
      label="Lead comes out"
      testId="lamp-lead"
      remark="Drawn on charts, to find one’s way by."
      value={shared(lamps, (lamp) => lamp.leadEnd ?? 'unsaid')}
      options={[
        { value: 'unsaid', label: 'not said' },
        ...leadEnds.map((end) => ({ value: end, label: `${endSide(end, turned)} end` })),
      ]}
      onCommit={(end) =>
        act([
          bind(setLeadEnd, {
            lampIds: lamps.map(({ id }) => id),
            end: end === 'unsaid' ? null : end,
          }),
        ])
      }
    />
  );
}
