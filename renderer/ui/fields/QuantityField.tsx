import { NumberField } from './numberFields';
import { ownFrom, type Quantity, rounded, shownIn, unitOf, type UnitSystem } from '../../words';

/** A figure kept in the plan's own unit, shown and typed in the one that the person has chosen. */
export function QuantityField(props: {
  label: string;
  quantity: Quantity;
  system: UnitSystem;
  /** What it is counted by, such as `/day`. */
  per?: string | undefined;
  /** In the plan's own unit, as are the limits. */
  value: number;
  lowest: number;
  highest: number;
  step?: number | undefined;
  remark?: string | undefined;
  testId?: string | undefined;
  onCommit: (value: number) => void;
}) {
  const { label, quantity, system, per = '', step, remark, testId, onCommit } = props;
  const shown = (own: number) => shownIn(quantity, system, own);
  return (
    <NumberField
      label={label}
      unit={`${unitOf(quantity, system)}${per}`}
      value={shown(props.value)}
      // Rounded inwards, so that what the field says it takes is taken.
      lowest={Math.ceil(shown(props.lowest) * 1000) / 1000}
      highest={Math.floor(shown(props.highest) * 1000) / 1000}
      step={system === 'metric' ? step : undefined}
      remark={remark}
      testId={testId}
      onCommit={(value) => onCommit(rounded(ownFrom(quantity, system, value), 4))}
    />
  );
}
