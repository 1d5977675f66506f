import { bind, type BoundCommand } from '../../../document';
import { useState } from 'react';
import type { Lamp, LampKind, Shelf } from '../../../../shared-types/rack';
import { addLampKind, editLamps } from '../../../document/commands';
import { litSides } from '../../../engine/lamps';
import { usePlanStore } from '../../../store';
import { Button, FieldList, Fold, Section, Select, TextField, type FieldOf } from '../../../ui';
import { shared, sharedValues } from '../common';
import { LampKindFields } from './LampKindFields';
import { LeadField } from './LeadField';
import { useAct } from '../useAct';
import type { UnitSystem } from '../../../words';

type LampFigures = Omit<Lamp, 'id' | 'burntHours' | 'leadEnd'> & { burntHours: number };

const PLACE: readonly FieldOf<LampFigures>[] = [
  { as: 'length', key: 'xMm', label: 'From the left', testId: 'lamp-x' },
  { as: 'length', key: 'yMm', label: 'From the front', testId: 'lamp-y' },
  { as: 'length', key: 'zMm', label: 'Above the shelf', testId: 'lamp-z', lowestMm: 0 },
  {
    as: 'number',
    key: 'rotationDeg',
    label: 'Turned',
    testId: 'lamp-rotation',
    unit: '°',
    lowest: -360,
    highest: 360,
    decimals: 2,
  },
  {
    as: 'number',
    key: 'tiltDeg',
    label: 'Tipped',
    testId: 'lamp-tilt',
    unit: '°',
    lowest: -180,
    highest: 180,
    decimals: 2,
  },
  { as: 'share', key: 'dimming', label: 'Dimmed to', testId: 'lamp-dimming', decimals: 1 },
];
/** Of lamps whose kind loses light as it burns. */
const BURNT: FieldOf<LampFigures> = {
  as: 'number',
  key: 'burntHours',
  label: 'Burnt before the trial',
  testId: 'lamp-burnt',
  unit: 'h',
  lowest: 0,
  highest: 200_000,
  whole: true,
};

/** Every figure of the selected lamps, and of their kind when it is one. */
export function LampFields(props: { lamps: { shelf: Shelf; lamp: Lamp }[]; lengths: UnitSystem }) {
  const { lengths } = props;
  const act = useAct();
  const kinds = usePlanStore((s) => s.plan?.rack.lampKinds) ?? [];
  const [kindOpen, setKindOpen] = useState(true);
  const lamps = props.lamps.map(({ lamp }) => lamp);
  const edit = (patch: Partial<LampFigures>) =>
    act(bind(editLamps, { edits: lamps.map((lamp) => ({ lampId: lamp.id, patch })) }));
  const kindId = shared(lamps, (l) => l.kindId);
  const kind = kinds.find((k) => k.id === kindId);
  const haveEnds = lamps.every((lamp) => {
    const own = kinds.find(({ id }) => id === lamp.kindId);
    return own !== undefined && litSides(own.shape).includes('length');
  });
  return (
    <>
      <Section title="Place">
        <FieldList<LampFigures>
          of={sharedValues(lamps.map((lamp) => ({ ...lamp, burntHours: lamp.burntHours ?? 0 })))}
          fields={kind?.lossPer1000h ? [...PLACE, BURNT] : PLACE}
          system={lengths}
          onChange={edit}
        />
        <TextField
          label="Group"
          testId="lamp-group"
          remark="Meter readings scale the lamps of a group together."
          longest={40}
          mayBeEmpty
          value={shared(lamps, (l) => l.group)}
          onCommit={(group) => edit({ group })}
        />
        {haveEnds ? <LeadField lamps={lamps} /> : null}
      </Section>
      <Section
        title="Lamp kind"
        actions={
          <Button
            title="A copy of this kind for these lamps alone"
            onClick={() => act(newKindFor(lamps, kind))}
          >
            New kind
          </Button>
        }
      >
        <Select
          label="Kind"
          testId="lamp-kind"
          value={kindId}
          options={kinds.map((k) => ({ value: k.id, label: k.name }))}
          onCommit={(id) => edit({ kindId: id })}
        />
        {kind ? (
          <Fold
            title={`Figures of ${kind.name}`}
            look="plain"
            open={kindOpen}
            onToggle={setKindOpen}
          >
            <LampKindFields kind={kind} lengths={lengths} />
          </Fold>
        ) : null}
      </Section>
    </>
  );
}

/** Gives the lamps a kind of their own, which begins as a copy of the one they have. */
function newKindFor(lamps: readonly Lamp[], kind: LampKind | undefined): BoundCommand {
  return {
    name: addLampKind.name,
    label: () => 'Add lamp kind',
    run(plan) {
      const { id: _, ...figures } = kind ?? { id: '' };
      const copy = kind ? { ...figures, name: `${kind.name} (copy)`.slice(0, 120) } : {};
      const after = addLampKind.run(plan, { kind: copy });
      const kindId = after.rack.lampKinds.at(-1)?.id ?? '';
      const edits = lamps.map((lamp) => ({ lampId: lamp.id, patch: { kindId } }));
      return editLamps.run(after, { edits });
    },
  };
}
