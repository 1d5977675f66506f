import { readLength, foundText } from './length';
import { readNumberText } from './readNumberText';
import { TypedField } from './TypedField';
import {
  fieldNumber,
  formatLength,
  lengthNumber,
  lengthUnit,
  rounded,
  type UnitSystem,
} from '../../words';
import type { Common } from './fields';

export function NumberField(
  props: Common & {
    value: number | null;
    onCommit: (value: number) => void;
    unit?: string | undefined;
    lowest?: number | undefined;
    highest?: number | undefined;
    decimals?: number | undefined;
    step?: number | undefined;
    whole?: boolean | undefined;
    placeholder?: string | undefined;
    /** Why a number in range cannot be taken; null: it can. */
    refuse?: ((value: number) => string | null) | undefined;
  },
) {
  const { lowest = -Infinity, highest = Infinity, whole = false } = props;
  const decimals = whole ? 0 : (props.decimals ?? 3);
  const step = props.step ?? 1;
  return (
    <TypedField<number>
      {...props}
      numeric
      show={(value) => fieldNumber(rounded(value, decimals))}
      read={(text) => {
        const read = readNumberText(text, 10 ** -decimals);
        const expected = `${whole ? 'a whole number' : 'a number'}${range(lowest, highest)} is expected.`;
        if (!read.ok)
          return { ok: false, expected: read.expected ?? `${foundText(text)}; ${expected}` };
        const { value } = read;
        const fits = value >= lowest && value <= highest && (!whole || Number.isInteger(value));
        const why = fits ? (props.refuse?.(value) ?? null) : `${foundText(text)}; ${expected}`;
        return why === null ? read : { ok: false, expected: why };
      }}
      step={(value, direction, large) => {
        const next = value + direction * step * (large ? 10 : 1);
        return Math.min(highest, Math.max(lowest, rounded(next, decimals)));
      }}
    />
  );
}

/** What lengths are usual, so that an unusual one can be remarked on: `Shelves`, 200 to 3000 mm. */
export interface UsualLength {
  of: string;
  fromMm: number;
  toMm: number;
}

export function LengthField(
  props: Common & {
    valueMm: number | null;
    system: UnitSystem;
    onCommit: (mm: number) => void;
    lowestMm?: number | undefined;
    highestMm?: number | undefined;
    usual?: UsualLength | undefined;
  },
) {
  const { system, lowestMm = -20_000, highestMm = 20_000 } = props;
  const stepMm = system === 'metric' ? 1 : 25.4 / 16;
  return (
    <TypedField<number>
      label={props.label}
      remark={unusual(props.valueMm, props.usual, system) ?? props.remark}
      disabled={props.disabled}
      testId={props.testId}
      value={props.valueMm}
      numeric
      unit={lengthUnit(system)}
      show={(mm) => lengthNumber(mm, system)}
      read={(text) => {
        const read = readLength(text, system);
        if (!read.ok) return read;
        const { mm } = read;
        if (mm < lowestMm || mm > highestMm) {
          const from = lengthNumber(lowestMm, system);
          const to = lengthNumber(highestMm, system);
          return {
            ok: false,
            expected: `${foundText(text)}; a length from ${from} to ${to} ${lengthUnit(system)} is expected.`,
          };
        }
        return { ok: true, value: mm };
      }}
      step={(mm, direction, large) =>
        Math.min(highestMm, Math.max(lowestMm, mm + direction * stepMm * (large ? 10 : 1)))
      }
      onCommit={props.onCommit}
    />
  );
}

/** Nothing is refused that can be; it is remarked on as long as it stands. */
function unusual(
  mm: number | null,
  usual: UsualLength | undefined,
  system: UnitSystem,
): string | undefined {
  if (mm === null || !usual || (mm >= usual.fromMm && mm <= usual.toMm)) return undefined;
  const [from, to] = [lengthNumber(usual.fromMm, system), formatLength(usual.toMm, system)];
  return `Is ${formatLength(mm, system)} right? ${usual.of}: mostly ${from} to ${to}.`;
}

function range(lowest: number, highest: number): string {
  const [from, to] = [lowest, highest].map(fieldNumber);
  if (Number.isFinite(lowest) && Number.isFinite(highest)) return ` from ${from} to ${to}`;
  if (Number.isFinite(lowest)) return ` from ${from} up`;
  if (Number.isFinite(highest)) return ` up to ${to}`;
  return '';
}
