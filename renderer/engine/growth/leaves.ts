import { requireFinite, requireQuantity } from '../require';
import { Refusal } from '../../words';

/** Leaf area over plant mass, e.g. m² g⁻¹ (Hunt 1982). */
export function leafAreaRatio(leafArea: number, mass: number): number {
  requireQuantity('leaf area ratio', 'leaf area', leafArea);
  requireQuantity('leaf area ratio', 'mass', mass);
  return leafArea / mass;
}

/**
 * Net assimilation rate between two harvests, mass per leaf area and day:
 * (W₂ − W₁)(ln L₂ − ln L₁) / ((L₂ − L₁) T); (W₂ − W₁) / (L T) where the leaf area stays the same.
 * Holds where mass grows in line with leaf area (Hunt 1982).
 */
export function netAssimilationRate(
  start: { mass: number; leafArea: number },
  end: { mass: number; leafArea: number },
  days: number,
): number {
  const where = 'net assimilation rate';
  requireFinite(where, 'start mass', start.mass);
  requireFinite(where, 'end mass', end.mass);
  requireQuantity(where, 'start leaf area', start.leafArea);
  requireQuantity(where, 'end leaf area', end.leafArea);
  requireQuantity(where, 'days', days);
  const perDay = (end.mass - start.mass) / days;
  const change = (end.leafArea - start.leafArea) / start.leafArea;
  // ln(1 + c)/c tends to 1 as the leaf area stays the same.
  const inverseMeanArea = (change === 0 ? 1 : Math.log1p(change) / change) / start.leafArea;
  return perDay * inverseMeanArea;
}

/** Days from one leaf to the next, T / (leaves₂ − leaves₁). Refused where no leaf was gained. */
export function phyllochronDays(startLeaves: number, endLeaves: number, days: number): number {
  requireQuantity('phyllochron', 'days', days);
  requireQuantity('phyllochron', 'leaves gained', endLeaves - startLeaves);
  return days / (endLeaves - startLeaves);
}

/**
 * Plastochron index n + (ln Lₙ − ln L₀) / (ln Lₙ − ln Lₙ₊₁): n leaves of at least the reference
 * length L₀ (10 mm), Lₙ the last of these, Lₙ₊₁ the next (Erickson & Michelini 1957). Lengths in mm.
 */
export function plastochronIndex(
  leaves: number,
  lastLengthMm: number,
  nextLengthMm: number,
  referenceLengthMm = 10,
): number {
  const where = 'plastochron index';
  requireQuantity(where, 'number of leaves', leaves);
  requireQuantity(where, 'reference length', referenceLengthMm);
  requireQuantity(where, 'length of the next leaf', nextLengthMm);
  if (!(lastLengthMm >= referenceLengthMm && nextLengthMm < referenceLengthMm)) {
    throw new Refusal(
      `${where}: last leaf ${lastLengthMm} mm, next ${nextLengthMm} mm; expected lengths on either side of ${referenceLengthMm} mm`,
    );
  }
  return (
    leaves + Math.log(lastLengthMm / referenceLengthMm) / Math.log(lastLengthMm / nextLengthMm)
  );
}
