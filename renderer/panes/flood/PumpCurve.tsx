import type { Pump } from '../../../shared-types/flood';
import { FieldRow, NumberField, TextField, TypedField } from '../../ui';
import { ownFrom, type Quantity, shownIn, unitOf, type UnitSystem } from '../../words';

const own = (quantity: Quantity, system: UnitSystem, typed: number) =>
  Number(ownFrom(quantity, system, typed).toFixed(4));

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
    Number(shownIn(quantity, system, value).toFixed(3));
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
        read={(text) =>
          readCurve(text, system)
            ? { ok: true, value: text }
            : {
                ok: false,
                expected:
                  'Pairs such as 0 : 30; 1.5 : 20; 3 : 0 are expected, flow falling as head rises. ' +
                  'One pair alone is a rated flow at its head.',
              }
        }
        onCommit={(text) => {
          const curve = readCurve(text, system);
          if (curve) onChange({ ...pump, curve });
        }}
      />
    </>
  );
}

/** Pairs in the person's units; null where they are none, or flow does not fall as head rises. */
function readCurve(text: string, system: UnitSystem): Point[] | null {
  const curve: Point[] = [];
  for (const part of text.split(';')) {
    if (part.trim() === '') continue;
    const words = part.split(':').map((word) => word.trim().replace(',', '.'));
    const [head, flow] = words;
    if (words.length !== 2 || !head || !flow) return null;
    const headM = own('run', system, Number(head));
    const flowLMin = own('flow', system, Number(flow));
    if (!(headM >= 0 && headM <= 50 && flowLMin >= 0 && flowLMin <= 1000)) return null;
    curve.push({ headM, flowLMin });
  }
  curve.sort((a, b) => a.headM - b.headM);
  const falls = curve.every((p, i) => p.flowLMin <= (curve[i - 1]?.flowLMin ?? Infinity));
  return curve.length > 0 && falls ? curve : null;
}
