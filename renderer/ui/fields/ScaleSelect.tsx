import type { Scale } from '../../../shared-types/trial/measurement';
import { Select } from './fields';

const FOR_ALL: readonly Scale[] = ['sqrt', 'log'];

/** On which scale a measurement is analysed; counts get the models that are made for them. */
export function ScaleSelect(props: {
  value: Scale | null;
  counts: boolean;
  words: Record<Scale, string>;
  testId?: string;
  onCommit: (scale: Scale | undefined) => void;
}) {
  const { value, counts, words } = props;
  const offered = (Object.keys(words) as Scale[]).filter(
    (scale) => counts || FOR_ALL.includes(scale) || scale === value,
  );
  return (
    <Select<Scale | 'measured'>
      label="Analysed as"
      value={value ?? 'measured'}
      testId={props.testId ?? 'scale'}
      options={[
        { value: 'measured', label: 'measured' },
        ...offered.map((scale) => ({ value: scale, label: words[scale] })),
      ]}
      onCommit={(scale) => props.onCommit(scale === 'measured' ? undefined : scale)}
    />
  );
}
