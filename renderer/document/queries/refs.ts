/**
 * References to things of the plan, as notices and selections write them: the kind, a
 * colon, the id (`tray:t2`, `pot:t2:1:3`); `plan` for the whole.
 */
const kinds = [
  'shelf',
  'tray',
  'pot',
  'lamp',
  'board',
  'lampKind',
  'reading',
  'factor',
  'level',
  'measurement',
  'incident',
  'zone',
  'bay',
] as const;

export type RefKind = (typeof kinds)[number];

/** Whether a reference is to a shelf or to what stands or hangs on one. */
export const isThing = (ref: string): boolean => /^(shelf|tray|lamp|board):/.test(ref);

export function refTo(kind: RefKind, id: string): string {
  return `${kind}:${id}`;
}

/** Kind and id of a reference; null where the text is none. */
export function parseRef(ref: string): { kind: RefKind; id: string } | null {
  const colon = ref.indexOf(':');
  const kind = kinds.find((k) => k === ref.slice(0, colon));
  return kind && colon < ref.length - 1 ? { kind, id: ref.slice(colon + 1) } : null;
}

/** Ids of the references of one kind, in their order. */
export function idsOf(refs: readonly string[], kind: RefKind): string[] {
  return refs.flatMap((ref) => {
    const parsed = parseRef(ref);
    return parsed?.kind === kind ? [parsed.id] : [];
  });
}
