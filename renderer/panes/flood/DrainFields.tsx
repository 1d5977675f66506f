import type { Drain } from '../../../shared-types/flood';
import {
  FieldList,
  LengthField,
  readNumberText,
  foundText,
  TypedField,
  type FieldOf,
} from '../../ui';
import { PresetRow } from '../shared/presets/PresetRow';
import { fieldNumber, ownFrom, rounded, say, shownIn, unitOf, type UnitSystem } from '../../words';

/** As much as a plan takes. */
const MOST_L_MIN = 1000;

type DrainOf<Kind> = Extract<Drain, { kind: Kind }>;

const STANDPIPE: readonly FieldOf<DrainOf<'standpipe'>>[] = [
  {
    as: 'length',
    key: 'overflowBoreMm',
    label: 'Overflow bore',
    lowestMm: 1,
    testId: 'overflow-bore',
  },
  { as: 'length', key: 'returnBoreMm', label: 'Return bore', lowestMm: 1 },
  {
    as: 'choice',
    key: 'returnThrough',
    label: 'Returns through',
    options: [
      { value: 'pump', label: 'the pump, once it stands' },
      { value: 'hole', label: 'a hole that is always open' },
    ],
  },
];

const SIPHON: readonly FieldOf<DrainOf<'siphon'>>[] = [
  { as: 'length', key: 'boreMm', label: 'Siphon bore', lowestMm: 1, testId: 'siphon-bore' },
  { as: 'length', key: 'dropMm', label: 'Outlet below the floor', lowestMm: 1 },
  { as: 'number', key: 'lossFactor', label: 'Losses, velocity heads', lowest: 0, highest: 100 },
];

export function DrainFields(props: {
  drain: Drain;
  lengths: UnitSystem;
  onChange: (drain: Drain) => void;
}) {
  const { drain, lengths, onChange } = props;
  if (drain.kind === 'standpipe') {
    return (
      <FieldList
        of={drain}
        fields={STANDPIPE}
        system={lengths}
        onChange={(patch) => onChange({ ...drain, ...patch })}
      />
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
    <>
      <FieldList
        of={drain}
        fields={SIPHON}
        system={lengths}
        onChange={(patch) => onChange({ ...drain, ...patch })}
      >
        <TypedField<number | 'untried'>
          label="Trips from"
          unit={unitOf('flow', lengths)}
          numeric
          testId="trip-flow"
          placeholder="not tried"
          value={drain.tripFlowLMin ?? 'untried'}
          show={(v) =>
            v === 'untried' ? '' : fieldNumber(rounded(shownIn('flow', lengths, v), 3))
          }
          read={(text) => {
            if (text.trim() === '') return { ok: true, value: 'untried' };
            const expected = `${foundText(text)}; a flow up to ${say('flow', lengths, MOST_L_MIN)}, or nothing, is expected.`;
            const read = readNumberText(text, 0.001);
            if (!read.ok) return { ok: false, expected: read.expected ?? expected };
            const value = rounded(ownFrom('flow', lengths, read.value), 4);
            return value > 0 && value <= MOST_L_MIN ? { ok: true, value } : { ok: false, expected };
          }}
          onCommit={(v) => onChange({ ...drain, tripFlowLMin: v === 'untried' ? null : v })}
        />
      </FieldList>
      <PresetRow kind="siphon" current={drain} onTake={onChange} />
    </>
  );
}
