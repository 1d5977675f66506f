import type { Pump } from '../../../shared-types/flood';
import { FieldRow, NumberField, readNumberText, TextField, TypedField } from '../../ui';
import {
  ownFrom,
  type Quantity,
  rounded,
  shownIn,
  unitOf,
  type UnitSystem,
  fieldNumber,
} from '../../words';

const own = (quantity: Quantity, system: UnitSystem, typed: number) =>
  rounded(ownFrom(quantity, system, typed), 4);

type Point = Pump['curve'][number];

/** Name, power, and the curve as one line of head : flow pairs. */
export function PumpCurve(props: {
  pump: Pump;
  system: UnitSystem;
  onChange: (pump: Pump) => void;
}) {
  const { pump, system, onChange } = props;
  const [head, flow] = [unitOf('run', system), unitOf('flow', system)];
  const shown = (quantity: Quantity, value: number) =>
    fieldNumber(rounded(shownIn(quantity, system, value), 3));
  return (
    <>
      <FieldRow>
        <TextField
          label="Pump"
          value={pump.name}
          onCommit={(name) => onChange({ ...pump, name })}
        />
        <NumberField
          label="Its power"
          unit="W"
          value={pump.powerW}
          lowest={0}
          highest={5000}
          onCommit={(powerW) => onChange({ ...pump, powerW })}
        />
      </FieldRow>
      <TypedField<string>
        label={`Its curve, head in ${head} : flow in ${flow}`}
        testId="pump-curve"
        value={pump.curve
          .map((p) => `${shown('run', p.headM)} : ${shown('flow', p.flowLMin)}`)
          .join('; ')}
        show={(text) => text}
        read={(text) => {
          const curve = readCurve(text, system);
          return typeof curve === 'string'
            ? { ok: false, expected: curve }
            : { ok: true, value: text };
        }}
        onCommit={(text) => {
          const curve = readCurve(text, system);
          if (typeof curve !== 'string') onChange({ ...pump, curve });
        }}
      />
    </>
  );
}

const pairsExpected = () =>
  `Pairs such as 0 : 30; ${fieldNumber(1.5)} : 20; 3 : 0 are expected, flow falling as head rises. ` +
  'One pair alone is a rated flow at its head.';

/** Pairs in the person's units; what is expected where they are none, or flow does not fall. */
function readCurve(text: string, system: UnitSystem): Point[] | string {
  const curve: Point[] = [];
  for (const part of text.split(';')) {
    if (part.trim() === '') continue;
    const [head, flow, ...more] = part.split(':').map((word) => readNumberText(word, 0.001));
    if (!head || !flow || more.length > 0) return pairsExpected();
    if (!head.ok) return head.expected ?? pairsExpected();
    if (!flow.ok) return flow.expected ?? pairsExpected();
    const headM = own('run', system, head.value);
    const flowLMin = own('flow', system, flow.value);
    if (!(headM >= 0 && headM <= 50 && flowLMin >= 0 && flowLMin <= 1000)) return pairsExpected();
    curve.push({ headM, flowLMin });
  }
  curve.sort((a, b) => a.headM - b.headM);
  const falls = curve.every((p, i) => p.flowLMin <= (curve[i - 1]?.flowLMin ?? Infinity));
  return curve.length > 0 && falls ? curve : pairsExpected();
}
