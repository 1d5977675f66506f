import type { Plan } from '../../../../shared-types/plan';
import type { EntryAct } from '../../../../shared-types/records';
import {
  entriesOfMark,
  entriesOfNote,
  measurementLabel,
  potsToMeasure,
  sayAct,
  type StateStood,
} from '../../../document/queries';
import { sayMark, sayNote, sayValue } from '../../../document/records';
import { runName, seenFromEach } from '../../../document/runs';
import { list, plural, sayDay } from '../../../words';
import { html, type Fragment } from '../../html';
import { listHtml, paragraphsHtml } from '../parts';

/** Replaced values that are told one by one. */
const MOST_TOLD = 30;

/** When and by whom the values were entered, and which of them replaced others. */
export function entriesHtml(plan: Plan): Fragment {
  const runs = seenFromEach(plan);
  return runs.map((seen) => {
    const name = runs.length > 1 ? `${runName(seen)}: ` : '';
    const words = enteredWords(seen);
    const told = [...replacedWords(seen), ...statesWords(seen)];
    if (words === null && told.length === 0) return null;
    const more = told.length - MOST_TOLD;
    return [
      words !== null && paragraphsHtml([`${name}${words}`]),
      told.length > 0 &&
        html`<p>Replaced or cleared after they were entered, ${plural(told.length, 'entry', 'entries')}:</p>${listHtml([...told.slice(0, MOST_TOLD), ...(more > 0 ? [`… and ${more} more; the exported history has all.`] : [])])}`,
    ];
  });
}

/** null: nothing is known of any value. */
export function enteredWords({ records }: Plan): string | null {
  const { trail, values } = records;
  if (!trail) return null;
  const numbers = Object.values(trail.entered).flatMap((byPot) => Object.values(byPot));
  const acts = numbers.flatMap((number) => trail.acts[number] ?? []);
  const all = Object.values(values).reduce((n, byPot) => n + Object.keys(byPot).length, 0);
  const days = [...new Set(acts.map(({ at }) => at.slice(0, 10)))].sort();
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined) return null;
  const when =
    first === last
      ? `on ${sayDay(first)}`
      : `on ${days.length} days from ${sayDay(first)} to ${sayDay(last)}`;
  const older = all - acts.length;
  const rest = older > 0 ? ` ${plural(older, 'value')} stood before times were kept.` : '';
  return `${plural(acts.length, 'value')} entered ${when}: ${byWhom(acts)}.${rest}`;
}

function byWhom(acts: readonly EntryAct[]): string {
  const counts = new Map<string, number>();
  for (const { by = 'no initials' } of acts) counts.set(by, (counts.get(by) ?? 0) + 1);
  const most = [...counts].sort(([, a], [, b]) => b - a);
  return list(most.map(([by, count]) => `${by} ${count}`));
}

function replacedWords(plan: Plan): string[] {
  const { trail, values } = plan.records;
  const codes = new Map(potsToMeasure(plan).map(({ id, code }) => [id, code]));
  const measurements = new Map(plan.trial?.measurements.map((m) => [m.id, m]));
  return (trail?.replaced ?? []).flatMap(({ measurementId, potId, was, act, second }) => {
    const measurement = measurements.get(measurementId);
    const when = trail?.acts[act];
    const code = codes.get(potId);
    if (!measurement || !when || code === undefined || second) return [];
    const now = values[measurementId]?.[potId];
    const stands = now === undefined ? 'no value stands' : `${sayValue(now, measurement)} stands`;
    const what = `${measurementLabel(measurement)} ${sayValue(was, measurement)}`;
    return [`${code}, ${what} given up ${sayAct(when)}; ${stands}`];
  });
}

/** States and notes that were said otherwise before, with what stands. */
function statesWords(plan: Plan): string[] {
  const { records } = plan;
  const { trail } = records;
  return potsToMeasure(plan).flatMap(({ id, code }) => [
    ...(trail?.marks ? changedWords(code, 'state', entriesOfMark(records, id), sayMark) : []),
    ...(trail?.notes ? changedWords(code, 'note', entriesOfNote(records, id), sayNote) : []),
  ]);
}

function changedWords<State>(
  code: string,
  what: string,
  entries: readonly StateStood<State>[],
  say: (state: State | null) => string,
): string[] {
  const stands = say(entries.at(-1)?.state ?? null);
  return entries.slice(0, -1).flatMap(({ state }, i) => {
    const act = entries[i + 1]?.act;
    if (state === null || !act) return [];
    return [`${code}, ${what} “${say(state)}” given up ${sayAct(act)}; “${stands}” stands`];
  });
}
