import type { Grown, RehearsedFinding, Tester } from './analysis';
import type { Harvest } from './harvest';
import type { LevelNumbers } from './levels';
import { reasonOf } from '../../../words';

/** A share of the runs, with its Monte-Carlo standard error √(p(1 − p)/runs). */
export interface Rate {
  share: number;
  se: number;
}

/** How often one analysis said that there is a difference; plain data. */
export interface TallyCounts {
  /** By term: with the true effects, and without. */
  terms: { key: string; power: number; alarm: number }[];
  /** Harvests that could not be analysed, and why the last could not. */
  failed: number;
  reason: string;
}

/** Counts for one analysis how often it says that there is a difference, term by term. */
export class Tally {
  readonly counts: TallyCounts = { terms: [], failed: 0, reason: '' };

  constructor(private readonly analyse: (grown: Grown) => Tester) {}

  /** Analyses one harvest with and without the true effects. */
  add(levels: LevelNumbers, { untreated, treated, alive, start }: Harvest): void {
    let test: Tester;
    try {
      test = this.analyse({ levels, alive, start });
    } catch (error) {
      this.counts.reason = reasonOf(error);
      this.counts.failed += 2;
      return;
    }
    this.count('alarm', test, untreated);
    this.count('power', test, treated);
  }

  private count(what: 'power' | 'alarm', test: Tester, response: Float64Array): void {
    let findings: RehearsedFinding[];
    try {
      findings = test.finds(response);
    } catch (error) {
      this.counts.reason = reasonOf(error);
      this.counts.failed++;
      return;
    }
    for (const { factorIds, found } of findings) {
      if (found === null) continue;
      const term = termIn(this.counts, keyOf(factorIds));
      if (found) term[what]++;
    }
  }
}

/** The counts of parts of a rehearsal together, in their order. */
export function joinedCounts(parts: readonly TallyCounts[]): TallyCounts {
  const all: TallyCounts = { terms: [], failed: 0, reason: '' };
  for (const { terms, failed, reason } of parts) {
    all.failed += failed;
    if (failed > 0) all.reason = reason;
    for (const { key, power, alarm } of terms) {
      const term = termIn(all, key);
      term.power += power;
      term.alarm += alarm;
    }
  }
  return all;
}

/** null where the term never had a test. A run without a test found nothing. */
export function ratesOf(
  { terms }: TallyCounts,
  factorIds: readonly string[],
  runs: number,
): { power: Rate; falseAlarm: Rate } | null {
  const term = terms.find(({ key }) => key === keyOf(factorIds));
  if (!term || runs === 0) return null;
  const rate = (hits: number): Rate => {
    const share = hits / runs;
    return { share, se: Math.sqrt((share * (1 - share)) / runs) };
  };
  return { power: rate(term.power), falseAlarm: rate(term.alarm) };
}

/** What is said of harvests that could not be analysed. */
export function sayFailures({ failed, reason }: TallyCounts, runs: number): string[] {
  if (failed === 0) return [];
  return [
    `${failed} of ${2 * runs} harvests could not be analysed and count as nothing found; the last because: ${reason}`,
  ];
}

const keyOf = (factorIds: readonly string[]): string => [...factorIds].sort().join(' ');

function termIn({ terms }: TallyCounts, key: string): TallyCounts['terms'][number] {
  const known = terms.find((term) => term.key === key);
  if (known) return known;
  const term = { key, power: 0, alarm: 0 };
  terms.push(term);
  return term;
}
