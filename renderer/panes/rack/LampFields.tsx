import { bind, type BoundCommand } from '../../document';
import { useState } from 'react';
import type { Lamp, LampKind, Shelf } from '../../../shared-types/rack';
import { addLampKind, editLamps } from '../../document/commands';
import { usePlanStore } from '../../store';
import {
  Button,
  FieldRow,
  Fold,
  LengthField,
  NumberField,
  Section,
  Select,
  TextField,
} from '../../ui';
import { shared } from './common';
import { LampKindFields } from './LampKindFields';
import { useAct } from './useAct';
import type { UnitSystem } from '../../words';

/** Every figure of the selected lamps, and of their kind when it is one. */
export function LampFields(props: { lamps: { shelf: Shelf; lamp: Lamp }[]; lengths: UnitSystem }) {
  const { lengths } = props;
  const act = useAct();
  const kinds = usePlanStore((s) => s.plan?.rack.lampKinds) ?? [];
  const [kindOpen, setKindOpen] = useState(true);
  const lamps = props.lamps.map(({ lamp }) => lamp);
  const edit = (patch: Partial<Omit<Lamp, 'id'>>) =>
    act(bind(editLamps, { edits: lamps.map((lamp) => ({ lampId: lamp.id, patch })) }));
  const kindId = shared(lamps, (l) => l.kindId);
  const kind = kinds.find((k) => k.id === kindId);
  const dimming = shared(lamps, (l) => l.dimming);
  return (
    <>
      <Section title="Place">
        <FieldRow>
          <LengthField
            label="From the left"
            testId="lamp-x"
            system={lengths}
            valueMm={shared(lamps, (l) => l.xMm)}
            onCommit={(xMm) => edit({ xMm })}
          />
          <LengthField
            label="From the front"
            testId="lamp-y"
            system={lengths}
            valueMm={shared(lamps, (l) => l.yMm)}
            onCommit={(yMm) => edit({ yMm })}
          />
          <LengthField
            label="Above the shelf"
            testId="lamp-z"
            system={lengths}
            valueMm={shared(lamps, (l) => l.zMm)}
            lowestMm={0}
            onCommit={(zMm) => edit({ zMm })}
          />
          <NumberField
            label="Turned"
            testId="lamp-rotation"
            unit="°"
            lowest={-360}
            highest={360}
            decimals={2}
            value={shared(lamps, (l) => l.rotationDeg)}
            onCommit={(rotationDeg) => edit({ rotationDeg })}
          />
          <NumberField
            label="Tipped"
            testId="lamp-tilt"
            unit="°"
            lowest={-180}
            highest={180}
            decimals={2}
            value={shared(lamps, (l) => l.tiltDeg)}
            onCommit={(tiltDeg) => edit({ tiltDeg })}
          />
          <NumberField
            label="Dimmed to"
            testId="lamp-dimming"
            unit="%"
            lowest={0}
            highest={100}
            decimals={1}
            value={dimming === null ? null : dimming * 100}
            onCommit={(percent) => edit({ dimming: percent / 100 })}
          />
        </FieldRow>
        <TextField
          label="Group"
          testId="lamp-group"
          remark="Meter readings scale the lamps of a group together."
          longest={40}
          mayBeEmpty
          value={shared(lamps, (l) => l.group)}
          onCommit={(group) => edit({ group })}
        />
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
      const copy = kind
        ? {
            name: `${kind.name} (copy)`.slice(0, 120),
            shape: kind.shape,
            lengthMm: kind.lengthMm,
            widthMm: kind.widthMm,
            emission: kind.emission,
            output: kind.output,
            powerW: kind.powerW,
            massKg: kind.massKg,
          }
        : {};
      const after = addLampKind.run(plan, { kind: copy });
      const kindId = after.rack.lampKinds.at(-1)?.id ?? '';
      const edits = lamps.map((lamp) => ({ lampId: lamp.id, patch: { kindId } }));
      return editLamps.run(after, { edits });
    },
  };
}
