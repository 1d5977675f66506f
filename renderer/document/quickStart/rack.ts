import { vesselWords, type QuickAnswers } from '../../../shared-types/window/quickStart';
import type { PotGrid, Tray } from '../../../shared-types/rack';
import { mostPots, spreadPots, type PotsAsked, type SpreadPots } from '../../engine/geometry';
import { newGrid } from '../new';

/** Room between trays, and between a tray and the shelf's edge. */
const GAP_MM = 25;

type TrayAnswers = Pick<QuickAnswers, 'widthMm' | 'depthMm' | 'vessels'>;

/** One of the trays that share a shelf evenly; its sides are 0 or less where so many have no room. */
export function vesselSize({ widthMm, depthMm, vessels }: TrayAnswers) {
  const tenth = (mm: number) => Math.floor(mm * 10 + 1e-6) / 10;
  return {
    widthMm: tenth((widthMm - (vessels + 1) * GAP_MM) / vessels),
    depthMm: tenth(depthMm - 2 * GAP_MM),
  };
}

/** Where the trays stand on their shelf, and how high their rims are. */
export function vesselsOn(
  answers: TrayAnswers & Pick<QuickAnswers, 'vessel'>,
): Omit<Tray, 'id' | 'letter' | 'grid'>[] {
  const size = vesselSize(answers);
  if (size.widthMm <= 0 || size.depthMm <= 0) return [];
  return Array.from({ length: answers.vessels }, (_, i) => ({
    ...size,
    xMm: Math.round((GAP_MM + i * (size.widthMm + GAP_MM)) * 10) / 10,
    yMm: GAP_MM,
    rimHeightMm: vesselWords[answers.vessel].rimMm,
  }));
}

export const potsAskedIn = (answers: QuickAnswers): PotsAsked => ({
  rows: answers.rows,
  columns: answers.columns,
  pattern: 'square',
  potDiameterMm: answers.potMm,
});

/** The pots asked for, spread over a tray; else as many of them as it holds; null: not one. */
export function spreadIn(answers: QuickAnswers): SpreadPots | null {
  const tray = vesselSize(answers);
  if (tray.widthMm <= 0 || tray.depthMm <= 0) return null;
  const asked = potsAskedIn(answers);
  const held = spreadPots(tray, asked) ? asked : mostPots(tray, asked);
  return held && spreadPots(tray, held);
}

export const quickPotHeightMm = ({
  potMm,
  potHeightMm,
}: Pick<QuickAnswers, 'potMm' | 'potHeightMm'>): number =>
  potHeightMm ?? Math.round(potMm * 9) / 10;

export function gridOf(answers: QuickAnswers): PotGrid | null {
  const spread = spreadIn(answers);
  if (!spread) return null;
  const { potMm } = answers;
  const usual = newGrid(vesselSize(answers), { potDiameterMm: potMm });
  return { ...usual, potHeightMm: quickPotHeightMm(answers), ...spread };
}

/** Centres of the lamps over a shelf: in equal cells, with as even gaps both ways as can be. */
export function lampPlaces(
  answers: Pick<QuickAnswers, 'widthMm' | 'depthMm' | 'lamps' | 'lamp'>,
): { xMm: number; yMm: number }[] {
  const { widthMm, depthMm, lamps, lamp } = answers;
  if (lamps < 1) return [];
  const unevenness = (across: number): number => {
    const [gapX, gapY] = [
      widthMm / across - lamp.lengthMm,
      depthMm / (lamps / across) - lamp.widthMm,
    ];
    // Lamps that cover each other are the last resort.
    return Math.abs(gapX - gapY) + (gapX < 0 || gapY < 0 ? 1e6 : 0);
  };
  const divisors = Array.from({ length: lamps }, (_, i) => i + 1).filter((n) => lamps % n === 0);
  const [across = 1] = divisors.toSorted((a, b) => unevenness(a) - unevenness(b));
  const deep = lamps / across;
  const tenth = (mm: number) => Math.round(mm * 10) / 10;
  return Array.from({ length: lamps }, (_, i) => ({
    xMm: tenth((widthMm * ((i % across) + 0.5)) / across),
    yMm: tenth((depthMm * (Math.floor(i / across) + 0.5)) / deep),
  }));
}
