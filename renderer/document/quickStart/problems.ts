import { vesselWords, type QuickAnswers } from '../../../shared-types/window/quickStart';
import { mostPots, spreadPots, largestPotMm } from '../../engine/geometry';
import { formatLength, plural, type UnitSystem } from '../../words';
import { firstAnswers } from './answers';
import { newLamp, newShelf } from '../new';
import { sayGrid } from './readGrid';
import { lampPlaces, potsAskedIn, quickPotHeightMm, vesselSize } from './rack';

export type QuickField = 'clearance' | 'vessels' | 'pots' | 'lamps' | 'factors' | 'measured';

/** What a plan cannot be made of, at the field where it is put right. */
export interface QuickProblem {
  field: QuickField;
  text: string;
  /** Answers that would do, each with what its button says. */
  ways: { says: string; answers: Partial<QuickAnswers> }[];
}

/** Everything that does not fit; [] where a plan can be made of the answers as they are. */
export function problemsOf(answers: QuickAnswers, system: UnitSystem = 'metric'): QuickProblem[] {
  const say: Say = (mm) => formatLength(mm, system);
  return [
    ...vesselProblems(answers, say),
    ...potProblems(answers, say),
    ...lampProblems(answers, say),
    ...factorProblems(answers),
    ...measuredProblems(answers),
  ];
}

/**
 * The answers as far as a rack can be drawn of them while others are still typed: as many pots as fit,
 * no lamps that do not, and nothing compared that cannot be. null: not even a shelf with a tray.
 */
export function drawablePart(answers: QuickAnswers): QuickAnswers | null {
  const fields = problemsOf(answers).map(({ field }) => field);
  const most = mostPots(vesselSize(answers), potsAskedIn(answers));
  if (!most) return null;
  const drawn: QuickAnswers = {
    ...answers,
    ...(fields.includes('pots') ? { columns: most.columns, rows: most.rows } : {}),
    ...(fields.includes('lamps') ? { lamps: 0 } : {}),
    ...(fields.includes('factors') ? { factors: [] } : {}),
    ...(fields.includes('measured')
      ? { measured: firstAnswers.measured, main: firstAnswers.main }
      : {}),
  };
  return problemsOf(drawn).length === 0 ? drawn : null;
}

type Say = (mm: number) => string;

function vesselProblems(answers: QuickAnswers, say: Say): QuickProblem[] {
  const { widthMm, depthMm } = vesselSize(answers);
  if (widthMm > 0 && depthMm > 0) return [];
  const { many } = vesselWords[answers.vessel];
  const text = `A shelf of ${say(answers.widthMm)} × ${say(answers.depthMm)} has no room for ${answers.vessels} ${many}.`;
  return [{ field: 'vessels', text, ways: [] }];
}

function potProblems(answers: QuickAnswers, say: Say): QuickProblem[] {
  const tray = vesselSize(answers);
  const asked = potsAskedIn(answers);
  if (tray.widthMm <= 0 || tray.depthMm <= 0) return [];
  const heightMm = quickPotHeightMm(answers);
  const high: QuickProblem[] =
    heightMm < answers.clearanceMm
      ? []
      : [
          {
            field: 'clearance',
            text: `Pots ${say(heightMm)} high do not stand under a clearance of ${say(answers.clearanceMm)}.`,
            ways: [],
          },
        ];
  if (spreadPots(tray, asked)) return high;
  const { one } = vesselWords[answers.vessel];
  const { columns, rows, potMm } = answers;
  const most = mostPots(tray, asked);
  const widest = Math.floor(largestPotMm(tray, asked));
  const text =
    `${sayGrid(asked)} pots of ${say(potMm)} need ${say(columns * potMm)} × ${say(rows * potMm)}; ` +
    `the ${one} is ${say(tray.widthMm)} × ${say(tray.depthMm)}. ` +
    (most
      ? `Touching, ${say(potMm)} apart, ${sayGrid(most)} fit.`
      : `Not one pot of ${say(potMm)} fits.`);
  return [
    ...high,
    {
      field: 'pots',
      text,
      ways: [
        ...(most
          ? [
              {
                says: `Fit to ${one}: ${sayGrid(most)}`,
                answers: { columns: most.columns, rows: most.rows },
              },
            ]
          : []),
        ...(widest >= 15 ? [{ says: `Pots of ${say(widest)}`, answers: { potMm: widest } }] : []),
      ],
    },
  ];
}

function lampProblems(answers: QuickAnswers, say: Say): QuickProblem[] {
  const { lamp, lamps, widthMm, depthMm, clearanceMm } = answers;
  if (lamps === 0) return [];
  const problem = (text: string): QuickProblem[] => [{ field: 'lamps', text, ways: [] }];
  if (lamp.lengthMm > widthMm || lamp.widthMm > depthMm) {
    return problem(
      `${lamp.name} is ${say(lamp.lengthMm)} × ${say(lamp.widthMm)}; the shelf is ${say(widthMm)} × ${say(depthMm)}. Choose a smaller lamp.`,
    );
  }
  const across = new Set(lampPlaces(answers).map(({ xMm }) => xMm)).size;
  if (across * lamp.lengthMm > widthMm || (lamps / across) * lamp.widthMm > depthMm) {
    return problem(`${plural(lamps, 'lamp')} of this kind cover each other. Hang fewer.`);
  }
  const shelf = { ...newShelf('s0', []), clearanceMm };
  const { zMm } = newLamp('l0', 'k0', shelf);
  return quickPotHeightMm(answers) < zMm || quickPotHeightMm(answers) >= clearanceMm
    ? []
    : problem(`The lamps hang ${say(zMm)} high, below the rims of the pots.`);
}

function factorProblems({ factors }: QuickAnswers): QuickProblem[] {
  const problem = (text: string): QuickProblem[] => [{ field: 'factors', text, ways: [] }];
  return factors.flatMap(({ name, levels }, i) => {
    const names = levels.map((level) => level.toLowerCase());
    const twice = levels.find((level, k) => names.indexOf(level.toLowerCase()) !== k);
    if (factors.findIndex((other) => other.name.toLowerCase() === name.toLowerCase()) !== i) {
      return problem(`${name} is there twice. Give each line a name of its own.`);
    }
    if (levels.length < 2) return problem(`${name} needs two levels or more, with commas between.`);
    return twice === undefined ? [] : problem(`${name} has ${twice} twice.`);
  });
}

function measuredProblems({ measured, main }: QuickAnswers): QuickProblem[] {
  const atHarvest = measured.filter(({ harvest }) => harvest);
  if (atHarvest.some(({ name }) => name === main)) return [];
  const text =
    atHarvest.length === 0
      ? 'Tick what is measured at harvest: it answers the question.'
      : 'Choose which measurement at harvest is the main result.';
  return [{ field: 'measured', text, ways: [] }];
}
