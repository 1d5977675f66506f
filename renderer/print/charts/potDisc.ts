import type { Pot } from '../../engine/geometry';
import { html, type Fragment, type Html } from '../html';
import type { ShownPot } from '../shown';
import { svgText } from '../svg';
import { mm, ptToMm, textWidthMm } from '../text';
import { treatmentMark } from '../treatmentMark';
import { GUARD_LINE, OUTSIDE_LINE, tickBox, type Sign } from './key';
import { textAt } from './textAt';

const CODE_MM = ptToMm(8);
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
  for (const line of codeLines(codes)) {
    // As low as the line's corners stay in the pot; the mark has what is left above.
    const corner = Math.sqrt(radius ** 2 - (line.widthMm / 2 + 0.3) ** 2);
    const middle = corner - line.heightMm / 2;
    const above = (radius + middle - line.heightMm / 2 - 0.3) / 2;
    const disc = { x, y: y - radius + above, radius: Math.min(MOST_DISC_MM, above - 0.35) };
    // What does not fit is not a number.
    if (!(disc.radius >= Math.max(LEAST_DISC_MM, line.large ? radius * 0.5 : 0))) continue;
    return {
      svg: [rim(pot, PLANTED_LINE), treatmentMark(treatment, disc), line.svg(x, y + middle)],
      tick: true,
    };
  }
  return { svg: treatmentMark(treatment, { x, y, radius: radius * 0.97 }), tick: false };
}

/** A pot without a treatment: its code, and a tick box where there is room. */
function plainPot(codes: readonly string[], pot: Disc): { svg: Fragment; tick: boolean } {
  const { x, y, radius } = pot;
  const line = codeLines(codes).find(
    ({ widthMm, heightMm }) => Math.hypot(widthMm / 2 + 0.3, heightMm / 2) <= radius,
  );
  return { svg: [rim(pot, PLANTED_LINE), line?.svg(x, y) ?? null], tick: line !== undefined };
}

/** A larger disc, on sheets at true size, costs ink and tells no more. */
const MOST_DISC_MM = 14;
/** The mark above a code keeps the size that is read at arm's length. */
const LEAST_DISC_MM = 3.4;
/** Sizes of a code that are tried, pt: 12 is read at arm's length, below 8 nobody reads it. */
const CODE_PTS = [16, 14, 12, 11, 10, 9, 8];
/** A box for a pencil is 5 mm beside a code of 12 pt; the smallest still takes a tick. */
const boxMm = (pt: number) => (pt >= 12 ? (5 * pt) / 12 : 2.8 + ((pt - 8) / 4) * 2.2);

interface CodeLine {
  widthMm: number;
  heightMm: number;
  /** Above the size that is needed: never at the cost of the mark. */
  large: boolean;
  /** Around its middle. */
  svg: (x: number, y: number) => Fragment;
}

/** A code with its tick box, best first: the first code as large as can be; last, the box alone. */
function codeLines(codes: readonly string[]): CodeLine[] {
  const named = codes.flatMap((code) =>
    CODE_PTS.map((pt): CodeLine => {
      const [size, box] = [ptToMm(pt), boxMm(pt)];
      const codeMm = textWidthMm(code, size);
      const widthMm = codeMm + 1 + box;
      return {
        widthMm,
        heightMm: box,
        large: pt > 12,
        svg: (x, y) => [
          svgText(x - widthMm / 2, y + size * 0.36, size, code),
          tickBox(x + widthMm / 2 - box, y - box / 2, box),
        ],
      };
    }),
  );
  const bare = [12, 8].map((pt): CodeLine => {
    const box = boxMm(pt);
    const svg: CodeLine['svg'] = (x, y) => tickBox(x - box / 2, y - box / 2, box);
    return { widthMm: box, heightMm: box, large: false, svg };
  });
  return [...named, ...bare];
}
