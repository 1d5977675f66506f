/**
 * What can be told from the rhythm of keys. A scanner or a balance that acts as a keyboard sends
 * its keys far quicker than a hand, and ends with Enter; some send two line ends.
 */
export interface KeyTrail {
  /** Keys since the last pause. */
  readonly text: string;
  readonly lastMs: number;
  /** When the last line ended; nothing has been typed since where `text` is empty. */
  readonly endMs: number;
}

/** No hand types two keys within this time, key after key. */
const BY_MACHINE_MS = 35;
/** Nor one key and Enter within this time. */
const ONE_BY_MACHINE_MS = 12;
/** So many keys at a machine's pace tell it also where no line end follows at once. */
const SURELY_MACHINE = 3;
/** Two line ends within this time are the one end of one line. */
const ONE_END_MS = 80;

export const NO_KEYS: KeyTrail = { text: '', lastMs: -Infinity, endMs: -Infinity };

/** The trail after one more key that writes something. */
export function withKey(trail: KeyTrail, key: string, ms: number): KeyTrail {
  const goesOn = ms - trail.lastMs <= BY_MACHINE_MS;
  return { text: goesOn ? trail.text + key : key, lastMs: ms, endMs: trail.endMs };
}

/**
 * The trail after a line end, with `burst`: what came by machine before it (empty: typed by hand),
 * and `again`: the second end of a line that has ended already.
 */
export function withLineEnd(
  trail: KeyTrail,
  ms: number,
): { trail: KeyTrail; burst: string; again: boolean } {
  const machine = trail.text.length > 1 && ms - trail.lastMs <= BY_MACHINE_MS;
  return {
    trail: { text: '', lastMs: -Infinity, endMs: ms },
    burst: machine ? trail.text : '',
    again: trail.text === '' && ms - trail.endMs <= ONE_END_MS,
  };
}

/**
 * Whether a text came by machine, all of it: at a machine's pace, and ended at once; a scanner that
 * ends its labels with nothing is told by its pace alone. `ms`: when the text is taken.
 */
export function cameByMachine(trail: KeyTrail, text: string, ms = Infinity): boolean {
  if (text === '' || trail.text !== text) return false;
  if (text.length >= SURELY_MACHINE) return true;
  return ms - trail.lastMs <= (text.length > 1 ? BY_MACHINE_MS : ONE_BY_MACHINE_MS);
}

/**
 * Whether figures are those of a label and no value. Trade numbers have eight figures and more; no
 * balance pads a whole number with noughts, as labels are.
 */
export function looksLikeLabel(text: string, byMachine: boolean): boolean {
  const figures = text.trim();
  return /^[0-9]{8,}$/.test(figures) || (byMachine && /^0[0-9]+$/.test(figures));
}

/**
 * The trail once the cursor has come to rest in the next cell: a second line end is waited for from
 * then on, however long the first one took to be dealt with.
 */
export function withArrival(trail: KeyTrail, ms: number): KeyTrail {
  return trail.text === '' && trail.endMs !== -Infinity ? { ...trail, endMs: ms } : trail;
}

/**
 * Splits a value typed by hand from a label scanned right after it. `burst`, what came by machine,
 * decides where several splits would do; null where there is none, or no telling which. A label of
 * figures alone is told from a value by its pace only.
 */
export function valueThenLabel(
  text: string,
  burst: string,
  isLabel: (text: string) => boolean,
): { value: string; label: string } | null {
  const splits: { value: string; label: string }[] = [];
  for (let at = 1; at < text.length; at++) {
    const value = text.slice(0, at);
    const label = text.slice(at);
    if (!/^\s*[0-9.,]*[0-9][.,]?\s*$/.test(value) || !/^[\p{L}0-9\]]/u.test(label)) continue;
    const scanned = label === burst && label.length >= SURELY_MACHINE;
    if ((scanned || /\p{L}/u.test(label)) && isLabel(label)) splits.push({ value, label });
  }
  const byRhythm = splits.find(({ label }) => label === burst);
  return byRhythm ?? (splits.length === 1 ? (splits[0] ?? null) : null);
}

/** Enter, or a bare carriage return or line feed as keyboards write them. */
export function endsLine(event: { key: string; ctrlKey: boolean; altKey: boolean }): boolean {
  if (event.key === 'Enter') return !event.ctrlKey && !event.altKey;
  return event.ctrlKey && !event.altKey && /^[jm]$/i.test(event.key);
}
