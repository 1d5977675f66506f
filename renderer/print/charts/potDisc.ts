import type { Pot } from '../../engine/geometry';
import { html, type Fragment, type Html } from '../html';
import type { ShownPot } from '../shown';
import { svgText } from '../svg';
import { mm, ptToMm, textWidthMm } from '../text';
import { treatmentMark } from '../treatmentMark';
import { GUARD_LINE, OUTSIDE_LINE, tickBox, type Sign } from './key';
import { textAt } from './textAt';

const CODE_MM = ptToMm(8);
const TICK_MM = 2.8;
const PLANTED_LINE = html`fill="#fff" stroke="#000" stroke-width=".25"`;

/** A pot on the page, mm. */
export interface Disc {
  x: number;
  y: number;
  radius: number;
}

export const rim = ({ x, y, radius }: Disc, style: Html): Html =>
  html`<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" ${style}/>`;

/** Its treatment, with codes and tick box where there is room. */
export function plantedPot(
  pot: Pot,
  { treatment, plant }: ShownPot,
  disc: Disc,
): { svg: Fragment; sign: Sign | null } {
  const hole = pot.code.slice(pot.code.indexOf('-') + 1);
  const codes = plant ? [plant, hole] : [hole];
  const { svg, tick } = treatment ? treatedPot(treatment, codes, disc) : plainPot(codes, disc);
  return { svg, sign: tick ? 'tick' : null };
}

/** A guard, or a pot that takes no part in the trial. */
export function unplantedPot({ guard }: Pot, disc: Disc): { svg: Fragment; sign: Sign } {
  const named = guard && textWidthMm('guard', CODE_MM) <= 1.8 * disc.radius;
  return {
    sign: guard ? 'guard' : 'outside',
    svg: [
      rim(disc, guard ? GUARD_LINE : OUTSIDE_LINE),
      named && textAt(disc.x, disc.y + CODE_MM * 0.3, CODE_MM, 'guard'),
    ],
  };
}

/** Mark above, and below it code and tick box where the pot is large enough for type of 8 pt. */
function treatedPot(
  treatment: { look: number; mark: string },
  codes: readonly string[],
  pot: Disc,
): { svg: Fragment; tick: boolean } {
  const { x, y, radius } = pot;
  const lineY = y + radius * 0.62;
  const line = codeLine(codes, x, lineY, radius * 0.62, radius);
  if (!line) {
    return { svg: treatmentMark(treatment, { x, y, radius: radius * 0.97 }), tick: false };
  }
  const above = (radius + radius * 0.62 - line.height / 2 - 0.3) / 2;
  const disc = { x, y: y - radius + above, radius: above - 0.35 };
  return { svg: [rim(pot, PLANTED_LINE), treatmentMark(treatment, disc), line.svg], tick: true };
}

/** A pot without a treatment: its code, and a tick box where there is room. */
function plainPot(codes: readonly string[], pot: Disc): { svg: Fragment; tick: boolean } {
  const { x, y, radius } = pot;
  const line = codeLine(codes, x, y, 0, radius);
  return { svg: [rim(pot, PLANTED_LINE), line?.svg ?? null], tick: line !== null };
}

/**
 * A code (the first for which the pot is wide enough there) and a tick box side by side around a
 * middle.
 */
function codeLine(
  codes: readonly string[],
  x: number,
  y: number,
  belowCentre: number,
  radius: number,
): { svg: Fragment; height: number } | null {
  const reach = belowCentre + TICK_MM / 2;
  if (reach >= radius) return null;
  const chord = 2 * Math.sqrt(radius ** 2 - reach ** 2) - 0.6;
  // The mark above has to keep the size that is read at arm's length.
  if (belowCentre > 0 && radius < 6) return null;
  const code = codes.find((text) => textWidthMm(text, CODE_MM) + 1 + TICK_MM <= chord);
  if (code !== undefined) {
    const codeWidth = textWidthMm(code, CODE_MM);
    const left = x - (codeWidth + 1 + TICK_MM) / 2;
    return {
      svg: [
        svgText(left, y + CODE_MM * 0.36, CODE_MM, code),
        tickBox(left + codeWidth + 1, y - TICK_MM / 2, TICK_MM),
      ],
      height: TICK_MM,
    };
  }
  if (TICK_MM > chord) return null;
  return { svg: tickBox(x - TICK_MM / 2, y - TICK_MM / 2, TICK_MM), height: TICK_MM };
}
