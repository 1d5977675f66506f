import { useKept } from '../../../store/context';
import { Checkbox } from '../../../ui';

const keys = [
  ['Enter', 'keep the value, go on; with Shift go back'],
  ['Enter twice', 'leave a pot without a value; it stays lit until it has one'],
  ['Ctrl Enter, or * of the number pad', 'the next pot that is not recorded'],
  ['Ctrl F, or / of the number pad', 'find a pot by its code or its plant, from any stage'],
  ['Arrows, Page up and down, Tab', 'move without changing anything'],
  ['Escape', 'put back what was there'],
  ['Ctrl Z, Ctrl Y', 'undo and redo, one value at a time'],
  ['d, m, x, then Enter', 'the plant is dead, missing, excluded'],
  ['F2', 'state, note and photos of this pot'],
  ['F8, F9', 'the next value in question; it is right'],
  ['a scanned label', 'goes to its pot, also from within a value; never taken as one'],
] as const;

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
      <dl className="records-keys" data-testid="keys-panel">
        {keys.map(([key, does]) => (
          <div key={key}>
            <dt>{key}</dt>
            <dd>{does}</dd>
          </div>
        ))}
      </dl>
    </>
  );
}
