import type { Grown, RehearsedFinding, Tester } from './analysis';
import type { Harvest } from './harvest';
import type { LevelNumbers } from './levels';
import { reasonOf } from '../../../words';

/** A share of the runs, with its Monte-Carlo standard error √(p(1 − p)/runs). */
export interface Rate {
  share: number;
  se: number;
}

interface Count {
  power: number;
  alarm: number;
}

/** How often one analysis said that there is a difference, term by term. */
export class Tally {
  private readonly counts = new Map<string, Count>();
  private failed = 0;
  private reason = '';

  constructor(private readonly analyse: (grown: Grown) => Tester) {}

  /** Analyses one harvest with and without the true effects. */
  add(levels: LevelNumbers, { untreated, treated, alive, start }: Harvest): void {
    let test: Tester;
    try {
      test = this.analyse({ levels, alive, start });
    } catch (error) {
      this.reason = reasonOf(error);
      this.failed += 2;
      return;
    }
    this.count('alarm', test, untreated);
    this.count('power', test, treated);
  }

  private count(what: keyof Count, test: Tester, response: Float64Array): void {
    let findings: RehearsedFinding[];
    try {
      findings = test.finds(response);
    } catch (error) {
      this.reason = reasonOf(error);
      this.failed++;
      return;
    }
    for (const { factorIds, found } of findings) {
      if (found === null) continue;
      const key = keyOf(factorIds);
      const count = this.counts.get(key) ?? { power: 0, alarm: 0 };
      if (found) count[what]++;
      this.counts.set(key, count);
    }
  }

  /** null where the term never had a test. A run without a test found nothing. */
  ratesOf(factorIds: readonly string[], runs: number): { power: Rate; falseAlarm: Rate } | null {
    const count = this.counts.get(keyOf(factorIds));
    if (!count || runs === 0) return null;
    const rate = (hits: number): Rate => {
      const share = hits / runs;
      return { share, se: Math.sqrt((share * (1 - share)) / runs) };
    };
    return { power: rate(count.power), falseAlarm: rate(count.alarm) };
  }

  failures(runs: number): string[] {
    if (this.failed === 0) return [];
    return [
      `${this.failed} of ${2 * runs} harvests could not be analysed and count as nothing found; the last because: ${this.reason}`,
    ];
  }
}

const keyOf = (factorIds: readonly string[]): string => [...factorIds].sort().join(' ');
