import type { Pump } from '../../../shared-types/flood';
import { FieldRow, NumberField, TextField, TypedField } from '../../ui';

type Point = Pump['curve'][number];

/** Name, power, and the curve as one line of head : flow pairs. */
export function PumpCurve({ pump, onChange }: { pump: Pump; onChange: (pump: Pump) => void }) {
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
        label="Its curve, head in m : flow in L/min"
        testId="pump-curve"
        value={pump.curve.map((p) => `${p.headM} : ${p.flowLMin}`).join('; ')}
        show={(text) => text}
        read={(text) =>
          readCurve(text)
            ? { ok: true, value: text }
            : {
                ok: false,
                expected:
                  'Pairs such as 0 : 30; 1.5 : 20; 3 : 0 are expected, flow falling as head rises. ' +
                  'One pair alone is a rated flow at its head.',
              }
        }
        onCommit={(text) => {
          const curve = readCurve(text);
          if (curve) onChange({ ...pump, curve });
        }}
      />
    </>
  );
}

function readCurve(text: string): Point[] | null {
  const curve: Point[] = [];
  for (const part of text.split(';')) {
    if (part.trim() === '') continue;
    const [headM, flowLMin, more] = part.split(':').map((n) => Number(n.trim().replace(',', '.')));
    if (headM === undefined || flowLMin === undefined || more !== undefined) return null;
    if (!(headM >= 0 && headM <= 50 && flowLMin >= 0 && flowLMin <= 1000)) return null;
    curve.push({ headM, flowLMin });
  }
  curve.sort((a, b) => a.headM - b.headM);
  const falls = curve.every((p, i) => p.flowLMin <= (curve[i - 1]?.flowLMin ?? Infinity));
  return curve.length > 0 && falls ? curve : null;
}
