import type { BoundCommand } from '../../document';

/** What a notice asks for, where one command does it. */
export interface Remedy {
  /** As its button says it. */
  label: string;
  command: BoundCommand;
}

/** The ids of one kind of thing that a notice is about. */
export const idsIn = (about: readonly string[], kind: string): string[] =>
  about.filter((ref) => ref.startsWith(`${kind}:`)).map((ref) => ref.slice(kind.length + 1));
