import { prepareDraw, assignmentsOf, type TrialInput } from '../../engine/trial';
import { balanceOfSite, type BalanceTable } from '../../engine/trial/figures/balance';

/** Largest difference between the treatments' means; null where it is not known. */
export interface Gaps {
  ppfdUmol: number | null;
  edgeShare: number;
  start: number | null;
}

export interface DrawTrial {
  /** Medians over free draws and over draws that meet the constraint. */
  free: Gaps;
  constrained: Gaps;
  /** Candidates that a constrained draw takes on average. */
  candidates: number;
  /** Share of free draws that is accepted, over the stages the least. */
  acceptanceShare: number;
}

const FREE_DRAWS = 200;
const CONSTRAINED_DRAWS = 40;

/** What the constraint of the draw brings, tried on seeds of its own before the real draw. */
export function tryDraw(
  input: TrialInput,
  tell: (done: number, total: number) => void = () => undefined,
): DrawTrial {
  const free = prepareDraw(unconstrained(input));
  const constrained = prepareDraw(input);
  const total = FREE_DRAWS + CONSTRAINED_DRAWS;
  let done = 0;
  let candidates = 0;
  let acceptanceShare = 1;
  const draws = (prepared: typeof free, count: number, what: string): Gaps[] =>
    Array.from({ length: count }, (_, i) => {
      const drawn = prepared.draw(`${what} ${i + 1}`);
      if (prepared === constrained) {
        candidates += drawn.candidates;
        for (const stage of drawn.stages) {
          acceptanceShare = Math.min(acceptanceShare, stage.acceptanceShare);
        }
      }
      if (++done % 10 === 0) tell(done, total);
      const { site } = prepared;
      return gapsOf(balanceOfSite(site, { assignments: assignmentsOf(site, drawn) }));
    });
  const without = draws(free, FREE_DRAWS, 'free draw');
  const within = draws(constrained, CONSTRAINED_DRAWS, 'constrained draw');
  return {
    free: medians(without),
    constrained: medians(within),
    candidates: candidates / CONSTRAINED_DRAWS,
    acceptanceShare,
  };
}

/** The same trial with the first draw taken. */
export function unconstrained(input: TrialInput): TrialInput {
  const { constraint } = input.trial;
  return {
    ...input,
    trial: {
      ...input.trial,
      constraint: { ...constraint, acceptanceShare: 1, likeNeighbours: null },
    },
  };
}

/** Largest less smallest mean over the treatments that are grown. */
export function gapsOf({ treatments }: BalanceTable): Gaps {
  const grown = treatments.filter((row) => row.pots > 0);
  const gap = (values: (number | null)[]): number | null => {
    const found = values.filter((value) => value !== null);
    if (found.length < values.length || found.length === 0) return null;
    return Math.max(...found) - Math.min(...found);
  };
  return {
    ppfdUmol: gap(grown.map((row) => row.meanPpfdUmol)),
    edgeShare: gap(grown.map((row) => row.edgeShare)) ?? 0,
    start: gap(grown.map((row) => row.meanStart)),
  };
}

/** The middle of many draws. */
export function medians(gaps: readonly Gaps[]): Gaps {
  const median = (values: (number | null)[]): number | null => {
    const sorted = values.filter((value) => value !== null).sort((a, b) => a - b);
    if (sorted.length < values.length || sorted.length === 0) return null;
    const middle = (sorted.length - 1) / 2;
    return ((sorted[Math.floor(middle)] ?? 0) + (sorted[Math.ceil(middle)] ?? 0)) / 2;
  };
  return {
    ppfdUmol: median(gaps.map((gap) => gap.ppfdUmol)),
    edgeShare: median(gaps.map((gap) => gap.edgeShare)) ?? 0,
    start: median(gaps.map((gap) => gap.start)),
  };
}
