import { useKept } from '../../../store/context';
import { Checkbox, Keys } from '../../../ui';
import { recordKeys } from '../keyWords';

/** Whether the end of a row is heard, for hands and eyes that are at the bench. */
export const LINE_END_SOUND = { name: 'records-sound', initial: false };

/** What the keys do, and what may be typed. */
export function KeysPanel() {
  const [sound, setSound] = useKept(LINE_END_SOUND);
  return (
    <>
      <Checkbox
        label="A tone at the end of a row, two at the end of a tray"
        checked={sound}
        testId="line-end-sound"
        onCommit={setSound}
      />
      <Keys keys={recordKeys} testId="keys-panel" />
    </>
  );
}
