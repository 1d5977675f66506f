import type { FitResult, TermRow } from '../../../../shared-types/fit';

/** The term of a result that belongs to these columns, in whatever order they are crossed. */
export function termOf(result: FitResult, columns: readonly string[]): TermRow | undefined {
  const wanted = [...columns].sort().join(' × ');
  return result.terms.find((term) => term.term.split(' × ').sort().join(' × ') === wanted);
}

/** p of a main effect; null where it has none. */
export const modelPTerm = (result: FitResult, column: string): number | null =>
  termOf(result, [column])?.p ?? null;
