import type { Drain } from '../../../shared-types/flood';
import {
  FieldRow,
  LengthField,
  NumberField,
  readNumberText,
  sayFound,
  Select,
  TypedField,
} from '../../ui';
import { ownFrom, rounded, say, shownIn, unitOf, type UnitSystem } from '../../words';

/** As much as a plan takes. */
const MOST_L_MIN = 1000;

export function DrainFields(props: {
  drain: Drain;
  lengths: UnitSystem;
  onChange: (drain: Drain) => void;
}) {
  const { drain, lengths, onChange } = props;
  if (drain.kind === 'standpipe') {
    return (
      <FieldRow>
        <LengthField
          label="Overflow bore"
          testId="overflow-bore"
          system={lengths}
          valueMm={drain.overflowBoreMm}
          lowestMm={1}
          onCommit={(overflowBoreMm) => onChange({ ...drain, overflowBoreMm })}
        />
        <LengthField
          label="Return bore"
          system={lengths}
          valueMm={drain.returnBoreMm}
          lowestMm={1}
          onCommit={(returnBoreMm) => onChange({ ...drain, returnBoreMm })}
        />
        <Select
          label="Returns through"
          value={drain.returnThrough}
          options={[
            { value: 'pump', label: 'the pump, once it stands' },
            { value: 'hole', label: 'a hole that is always open' },
          ]}
          onCommit={(returnThrough) => onChange({ ...drain, returnThrough })}
        />
      </FieldRow>
    );
  }
  if (drain.kind === 'valve') {
    return (
      <LengthField
        label="Valve bore"
        system={lengths}
        valueMm={drain.boreMm}
        lowestMm={1}
        onCommit={(boreMm) => onChange({ ...drain, boreMm })}
      />
    );
  }
  return (
    <FieldRow>
      <LengthField
        label="Siphon bore"
        testId="siphon-bore"
        system={lengths}
        valueMm={drain.boreMm}
        lowestMm={1}
        onCommit={(boreMm) => onChange({ ...drain, boreMm })}
      />
      <LengthField
        label="Outlet below the floor"
        system={lengths}
        valueMm={drain.dropMm}
        lowestMm={1}
        onCommit={(dropMm) => onChange({ ...drain, dropMm })}
      />
      <NumberField
        label="Losses, velocity heads"
        value={drain.lossFactor}
        lowest={0}
        highest={100}
        onCommit={(lossFactor) => onChange({ ...drain, lossFactor })}
      />
      <TypedField<number | 'untried'>
        label="Trips from"
        unit={unitOf('flow', lengths)}
        numeric
        testId="trip-flow"
        placeholder="not tried"
        value={drain.tripFlowLMin ?? 'untried'}
        show={(v) => (v === 'untried' ? '' : String(rounded(shownIn('flow', lengths, v), 3)))}
        read={(text) => {
          if (text.trim() === '') return { ok: true, value: 'untried' };
          const expected = `${sayFound(text)}; a flow up to ${say('flow', lengths, MOST_L_MIN)}, or nothing, is expected.`;
          const read = readNumberText(text, 0.001);
          if (!read.ok) return { ok: false, expected: read.expected ?? expected };
          const value = rounded(ownFrom('flow', lengths, read.value), 4);
          return value > 0 && value <= MOST_L_MIN ? { ok: true, value } : { ok: false, expected };
        }}
        onCommit={(v) => onChange({ ...drain, tripFlowLMin: v === 'untried' ? null : v })}
      />
    </FieldRow>
  );
}
