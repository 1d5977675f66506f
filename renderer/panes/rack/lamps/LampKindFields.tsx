import { bind } from '../../../document';
import { lampShapes, lampShapeWords, type LampKind } from '../../../../shared-types/rack';
import { faceSides, type LitSide } from '../../../engine/lamps';
import { editLampKind, restateOutput } from '../../../document/commands';
import { usePlanStore } from '../../../store';
import { FieldRow, LengthField, NumberField, Select, TextField } from '../../../ui';
import { EmissionFields } from './EmissionFields';
import { LampFile } from './LampFile';
import { OutputFields } from './OutputFields';
import { useAct } from '../useAct';
import { ownFrom, rounded, shownIn, unitOf, type UnitSystem } from '../../../words';

type Edit = (patch: Partial<Omit<LampKind, 'id'>>) => void;

/** As heavy as a plan lets a lamp be. */
const MOST_KG = 200;

/** Every figure of one model of lamp; it holds for all lamps of the kind. */
export function LampKindFields({ kind, lengths }: { kind: LampKind; lengths: UnitSystem }) {
  const act = useAct();
  const shelves = usePlanStore((s) => s.plan?.rack.shelves) ?? [];
  const used = shelves.flatMap((s) => s.lamps).filter((l) => l.kindId === kind.id).length;
  const edit: Edit = (patch) => void act(bind(editLampKind, { kindId: kind.id, patch }));
  return (
    <div className="rack-kind">
      <TextField
        label="Name"
        testId="kind-name"
        value={kind.name}
        remark={`${used} ${used === 1 ? 'lamp' : 'lamps'} of this kind on the rack.`}
        onCommit={(name) => edit({ name })}
      />
      <FieldRow>
        <Select
          label="Shape"
          testId="kind-shape"
          value={kind.shape}
          options={lampShapes.map((value) => ({ value, label: lampShapeWords[value] }))}
          onCommit={(shape) => edit({ shape })}
        />
        {faceSides(kind.shape).map((side) => (
          <SideField key={side} side={side} kind={kind} lengths={lengths} onEdit={edit} />
        ))}
        <NumberField
          label="Power drawn"
          testId="kind-power"
          unit="W"
          lowest={0}
          highest={20_000}
          value={kind.powerW}
          onCommit={(powerW) => edit({ powerW })}
        />
        <NumberField
          label="Light lost in 1,000 h"
          testId="kind-loss"
          unit="%"
          lowest={0}
          highest={50}
          step={0.5}
          value={100 * (kind.lossPer1000h ?? 0)}
          onCommit={(percent) => edit({ lossPer1000h: rounded(percent / 100, 6) })}
        />
        <NumberField
          label="Mass"
          testId="kind-mass"
          unit={unitOf('mass', lengths)}
          lowest={0}
          highest={Math.floor(shownIn('mass', lengths, MOST_KG))}
          value={shownIn('mass', lengths, kind.massKg)}
          onCommit={(mass) => edit({ massKg: rounded(ownFrom('mass', lengths, mass), 4) })}
        />
      </FieldRow>
      <EmissionFields emission={kind.emission} onEdit={(emission) => edit({ emission })} />
      <LampFile kind={kind} onEdit={edit} />
      <OutputFields
        kind={kind}
        onEdit={(output) => edit({ output })}
        onRestate={(as) => void act(bind(restateOutput, { kindId: kind.id, as }))}
      />
    </div>
  );
}

/** One side of the lit face that counts for how it shines. */
function SideField(props: { side: LitSide; kind: LampKind; lengths: UnitSystem; onEdit: Edit }) {
  const { side, kind, lengths, onEdit } = props;
  const common = { system: lengths, lowestMm: 0 };
  switch (side) {
    case 'length':
      return (
        <LengthField
          {...common}
          label="Lit length"
          testId="kind-length"
          valueMm={kind.lengthMm}
          onCommit={(lengthMm) => onEdit({ lengthMm })}
        />
      );
    case 'width':
      return (
        <LengthField
          {...common}
          label="Lit width"
          testId="kind-width"
          valueMm={kind.widthMm}
          onCommit={(widthMm) => onEdit({ widthMm })}
        />
      );
    default:
      return side satisfies never;
  }
}
