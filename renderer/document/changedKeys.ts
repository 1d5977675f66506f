import { isDraft } from 'immer';

type Group = Readonly<Record<string, unknown>>;

// Each check of an edit asks the same of the same groups, which may have thousands of names. Only the
// last ones are kept: each would hold the one before it, and so all that ever were.
let compared: readonly { before: Group; after: Group; keys: readonly string[] }[] = [];
const KEPT = 12;
const SMALL = 100;
const counted = new WeakMap<Group, number>();

/** The names under which one of two groups has something else than the other. */
export function changedKeys(before: Group, after: Group): readonly string[] {
  if (before === after) return [];
  const known = compared.find((one) => one.after === after && one.before === before);
  if (known) return known.keys;
  const keys: string[] = [];
  let [many, added] = [0, 0];
  for (const key in after) {
    many += 1;
    if (after[key] === before[key]) continue;
    keys.push(key);
    if (before[key] === undefined) added += 1;
  }
  counted.set(after, many);
  // Only where some are missing are they looked for.
  if (countOf(before) > many - added) {
    for (const key in before) if (after[key] === undefined) keys.push(key);
  }
  // Small groups are as quickly compared again.
  if (many > SMALL) compared = [{ before, after, keys }, ...compared].slice(0, KEPT);
  return keys;
}

/** How many names a group has. */
export function countOf(group: Group): number {
  const known = counted.get(group);
  if (known !== undefined) return known;
  const many = Object.keys(group).length;
  // A draft changes under the same name.
  if (!isDraft(group)) counted.set(group, many);
  return many;
}
