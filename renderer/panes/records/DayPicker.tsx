import { DateField } from '../../ui';

/** A day; empty: none. */
export function DayPicker(props: {
  label: string;
  value: string;
  testId?: string;
  remark?: string | undefined;
  onCommit: (date: string) => void;
}) {
  return <DateField {...props} onCommit={(date) => props.onCommit(date ?? '')} />;
}
