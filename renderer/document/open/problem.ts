/** Why a text is not a plan that can be opened. Nothing has been changed or repaired. */
export type OpenProblem =
  | { kind: 'empty' }
  | { kind: 'tooLarge'; foundMb: number; limitMb: number }
  | { kind: 'notJson'; line: number; column: number; found: string; expected: string }
  | { kind: 'notOurs'; found: string }
  | { kind: 'tooNew'; found: number; supported: number }
  | { kind: 'migrationFailed'; version: number; reason: string }
  /** A value of the wrong kind or size. `more`: how many further places are wrong. */
  | { kind: 'invalid'; path: string; found: string; expected: string; more: number }
  /** Each value is sound by itself but two of them contradict each other. */
  | { kind: 'inconsistent'; path: string; found: string; expected: string };

/** The problem as one sentence for the person. */
export function sayProblem(problem: OpenProblem): string {
  switch (problem.kind) {
    case 'empty':
      return 'The file is empty; a saved plan is expected.';
    case 'tooLarge':
      return `The file has ${problem.foundMb} MB; a plan has at most ${problem.limitMb} MB.`;
    case 'notJson':
      return (
        `The file breaks off being readable at line ${problem.line}, column ${problem.column}: ` +
        `found ${problem.found}, expected ${problem.expected}.`
      );
    case 'notOurs':
      return `The file is not an Evenrack plan: ${problem.found}.`;
    case 'tooNew':
      return (
        `The plan was saved by a newer Evenrack (format ${problem.found}); ` +
        `this one reads formats up to ${problem.supported}.`
      );
    case 'migrationFailed':
      return (
        `The plan has the older format ${problem.version} and could not be brought up to date: ` +
        `${problem.reason}.`
      );
    case 'invalid': {
      const more =
        problem.more === 0
          ? ''
          : ` (and ${problem.more} more ${problem.more === 1 ? 'place' : 'places'})`;
      return `${problem.path}: found ${problem.found}, expected ${problem.expected}${more}.`;
    }
    case 'inconsistent':
      return `${problem.path}: found ${problem.found}, expected ${problem.expected}.`;
  }
}
