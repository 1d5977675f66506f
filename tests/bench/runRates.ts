/**
 * How often the interval of a swapped factor holds its true difference, and how often factors that do
 * nothing are called a difference, over two, three and four runs of one rack: shelves have a worth of
 * their own that stays through all runs, and one that is of the run alone; some plants die.
 */
import { findingsOf } from '../../renderer/engine/findings';
import { harvested, swappedInputs, type SwappedShape } from '../builders/swappedRuns';

export interface RunCase extends SwappedShape {
  name: string;
}

export const runCases: readonly RunCase[] = [
  { name: 'four shelves, two lamps, two runs', shelves: 4, runs: 2 },
  { name: 'four shelves, two lamps, three runs', shelves: 4, runs: 3 },
  { name: 'two shelves, two lamps, four runs', shelves: 2, runs: 4 },
  { name: 'three shelves, three lamps, three runs', shelves: 3, runs: 3, lights: 3 },
];

export const TRUE_STEP = 5;
const TRUTH = { run: 4, shelf: 3, shelfInRun: 1.5, plant: 3, medium: 0, deadShare: 0.04 };

export interface RunRates {
  sets: number;
  /** Share of sets in which the interval of the first pair of lamps holds the true difference. */
  coverage: number;
  /** Of tests at 5 %: of the medium, which does nothing, and, in half the sets, of lamps that do nothing. */
  mediumAlarms: number;
  lampAlarms: number;
  /** Of the test that what the lamps do differs between the runs, which it does not. */
  runAlarms: number | null;
  /** Error degrees of freedom of the lamps. */
  errorDf: number;
}

const share = (of: readonly boolean[]): number => of.filter(Boolean).length / of.length;

export function runRates(one: RunCase, sets: number, seed: string): RunRates {
  const held: boolean[] = [];
  const alarms = { medium: [] as boolean[], lamps: [] as boolean[], runs: [] as boolean[] };
  let errorDf = 0;
  for (let i = 0; i < sets; i++) {
    const inputs = swappedInputs(one, `${seed} draw ${i}`);
    // Every second set has lamps that do nothing: what is asked of a test at 5 %.
    const light = i % 2 === 0 ? TRUE_STEP : 0;
    const outcome = findingsOf(harvested(inputs, { ...TRUTH, light }, `${seed} harvest ${i}`), {
      primaryOnly: true,
    });
    if (!outcome.ok) throw new Error(outcome.missing);
    const { primary, runs } = outcome.findings;
    const pOf = (term: string) => primary.result.terms.find((row) => row.term === term)?.p ?? 1;
    const pair = primary.result.comparisons
      .find(({ of }) => of.join() === 'lamps')
      ?.rows.find(({ a, b }) => a === 'Level 1' && b === 'Level 2');
    if (!pair?.lsd || pair.df === null) throw new Error('the lamps are compared');
    // By the interval of the pair alone, not of all pairs at once.
    held.push(Math.abs(pair.difference + light) <= pair.lsd);
    errorDf = pair.df;
    alarms.medium.push(pOf('medium') < 0.05);
    if (light === 0) alarms.lamps.push(pOf('lamps') < 0.05);
    const p = runs?.tests.find(({ factor }) => factor === 'lamps')?.p ?? null;
    if (p !== null) alarms.runs.push(p < 0.05);
  }
  return {
    sets,
    errorDf,
    coverage: share(held),
    mediumAlarms: share(alarms.medium),
    lampAlarms: share(alarms.lamps),
    runAlarms: alarms.runs.length > 0 ? share(alarms.runs) : null,
  };
}
