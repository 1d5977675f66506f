/**
 * Speed of the draw and of the rehearsal, with the limits they are held to.
 * Sizes: 324 pots on three shelves (blocks), and a split plot of 216 pots.
 */
import { rehearsePlanned } from '../../renderer/derive/trial/rehearsal';
import { drawLayout, prepareDraw } from '../../renderer/engine/trial';
import type { TrialInput } from '../../renderer/engine/trial';
import {
  domedLight,
  drawn,
  factorOf,
  inputOf,
  rackOf,
  soundSplitPlot,
  trialOf,
} from '../builders/trialInput';

function timed(what: string, limitMs: number, work: () => string): void {
  // Processor time, so that other work on the machine does not count.
  const start = process.cpuUsage();
  const note = work();
  const { user, system } = process.cpuUsage(start);
  const ms = (user + system) / 1000;
  const verdict = ms <= limitMs ? 'within' : 'OVER';
  console.log(`${what}: ${ms.toFixed(0)} ms (${verdict} ${limitMs} ms) ${note}`);
  if (ms > limitMs) process.exitCode = 1;
}

const rack = rackOf({ shelves: 3, traysPerShelf: 3, rows: 6, columns: 6 });
const light = domedLight(rack, 0.3);
const blocked = (acceptanceShare: number, likeNeighbours: number | null): TrialInput =>
  inputOf(
    rack,
    trialOf([factorOf(1, 'pot', 6)], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
      constraint: { acceptanceShare, balance: ['light', 'position'], likeNeighbours },
    }),
    light,
  );

timed('10,000 candidates of 324 pots in 3 blocks', 1000, () => {
  const { draw } = prepareDraw(blocked(0.01, null));
  let candidates = 0;
  let draws = 0;
  while (candidates < 10_000) {
    candidates += draw(`bench ${draws}`).candidates;
    draws++;
  }
  return `${candidates} candidates for ${draws} layouts, threshold included`;
});

timed('one layout at a share of 0.001', 1000, () => {
  const { report } = drawLayout({ ...blocked(0.001, null), ...drawn, seed: 'bench' });
  return `${report.candidates} candidates`;
});

timed('one layout at a share of 0.01, at most 2 like neighbours', 5000, () => {
  const { report } = drawLayout({ ...blocked(0.01, 2), ...drawn, seed: 'bench' });
  return `${report.candidates} candidates`;
});

timed('9,999 free draws of 324 pots', 2000, () => {
  const { draw } = prepareDraw(blocked(1, null));
  for (let run = 0; run < 9999; run++) draw(`redraw ${run}`);
  return '';
});

const rehearsals = [
  ['error strata', 'none', 0, 20_000],
  ['a mixed model', 'none', 0.05, 20_000],
  ['light as covariate', 'light', 0.05, 20_000],
  ['rows and columns', 'rows+columns', 0.05, 20_000],
  ['a smooth surface, by layouts', 'smooth', 0.05, 20_000],
  ['neighbouring pots alike, by layouts', 'ar1', 0.05, 20_000],
] as const;
for (const [what, primaryPosition, deadShare, limitMs] of rehearsals) {
  timed(`1,000 rehearsals of a 216-pot split plot by ${what}`, limitMs, () => {
    const sound = soundSplitPlot();
    const report = rehearsePlanned({
      ...sound,
      trial: { ...sound.trial, primaryPosition },
      wetDepthByPot: new Map(),
      model: {
        perUmol: 0.02,
        edgeEffect: 0.5,
        plantSd: 1,
        traySd: 0.5,
        shelfSd: 0.5,
        deadShare,
        startCorrelation: 0,
      },
      effects: { levels: { f2: { l201: 0.5 } }, interactions: [] },
      runs: 1000,
      seed: 'bench',
    });
    return report.factors
      .map((f) => `${f.name}: power ${f.power?.share ?? '-'}, alarms ${f.falseAlarm?.share ?? '-'}`)
      .join('; ');
  });
}
