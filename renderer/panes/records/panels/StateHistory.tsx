import type { StateStood } from '../../../document/queries';
import { sayAct } from '../../../document/queries';

/** What was said of a pot, when and by whom, the latest first; of one that never changed nothing. */
export function StateHistory<State>(props: {
  of: string;
  entries: readonly StateStood<State>[];
  say: (state: State | null) => string;
}) {
  const { of, entries, say } = props;
  if (entries.length === 0) return null;
  return (
    <ol className="value-history" aria-label={`History of the ${of}`} data-testid={`history-${of}`}>
      {[...entries].reverse().map(({ state, act }, i) => (
        <li key={entries.length - i}>
          {act ? sayAct(act) : 'Before times were kept'}: {say(state)}
        </li>
      ))}
    </ol>
  );
}
