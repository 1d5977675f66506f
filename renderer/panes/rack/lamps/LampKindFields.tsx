import { bind } from '../../../document';
import { lampShapes, lampShapeWords, type LampKind } from '../../../../shared-types/rack';
import { faceSides, type LitSide } from '../../../engine/lamps';
import { editLampKind, restateOutput } from '../../../document/commands';
import { usePlanStore } from '../../../store';
import { FieldList, TextField, type FieldOf } from '../../../ui';
import { PresetRow } from '../../shared/presets/PresetRow';
import { EmissionFields } from './EmissionFields';
import { LampFile } from './LampFile';
import { OutputFields } from './OutputFields';
import { useAct } from '../useAct';
import type { UnitSystem } from '../../../words';

type KindFigures = Omit<LampKind, 'id' | 'lossPer1000h'> & { lossPer1000h: number };

/** As heavy as a plan lets a lamp be. */
const MOST_KG = 200;

const SHAPE: FieldOf<KindFigures> = {
  as: 'choice',
  key: 'shape',
  label: 'Shape',
  testId: 'kind-shape',
  options: lampShapes.map((value) => ({ value, label: lampShapeWords[value] })),
};
/** The sides of the lit face that count for how a lamp shines. */
const SIDES: Record<LitSide, FieldOf<KindFigures>> = {
  length: {
    as: 'length',
    key: 'lengthMm',
    label: 'Lit length',
    testId: 'kind-length',
    lowestMm: 0,
  },
  width: {
    as: 'length',
    key: 'widthMm',
    label: 'Lit width',
    testId: 'kind-width',
    lowestMm: 0,
  },
};
const REST: readonly FieldOf<KindFigures>[] = [
  {
    as: 'number',
    key: 'powerW',
    label: 'Power drawn',
    testId: 'kind-power',
    unit: 'W',
    lowest: 0,
    highest: 20_000,
  },
  {
    as: 'share',
    key: 'lossPer1000h',
    label: 'Light lost in 1000 h',
    testId: 'kind-loss',
    highest: 0.5,
    stepPercent: 0.5,
  },
  {
    as: 'quantity',
    key: 'massKg',
    label: 'Mass',
    testId: 'kind-mass',
    quantity: 'mass',
    lowest: 0,
    highest: MOST_KG,
  },
];

/** Every figure of one model of lamp; it holds for all lamps of the kind. */
export function LampKindFields({ kind, lengths }: { kind: LampKind; lengths: UnitSystem }) {
  const act = useAct();
  const shelves = usePlanStore((s) => s.plan?.rack.shelves) ?? [];
  const used = shelves.flatMap((s) => s.lamps).filter((l) => l.kindId === kind.id).length;
  const edit = (patch: Partial<Omit<LampKind, 'id'>>) =>
    void act(bind(editLampKind, { kindId: kind.id, patch }));
  const { id: _, ...model } = kind;
  return (
    <div className="rack-kind">
      <TextField
        label="Name"
        testId="kind-name"
        value={kind.name}
        remark={`${used} ${used === 1 ? 'lamp' : 'lamps'} of this kind on the rack.`}
        onCommit={(name) => edit({ name })}
      />
      <PresetRow kind="lamp" current={model} onTake={edit} />
      <FieldList<KindFigures>
        of={{ ...kind, lossPer1000h: kind.lossPer1000h ?? 0 }}
        fields={[SHAPE, ...faceSides(kind.shape).map((side) => SIDES[side]), ...REST]}
        system={lengths}
        onChange={edit}
      />
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
