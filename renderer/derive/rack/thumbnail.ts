import type { Plan } from '../../../shared-types/plan';
import type { RackThumbnail, RecentPicture } from '../../../shared-types/window/rackThumbnail';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import { potsOf } from '../trial/trial';

/** Longest side of the picture, in its own units: whole numbers keep it small. */
const SIDE = 160;
const POST_MM = 30;
const BOARD_MM = 30;
const LAMP_MM = 26;
const BETWEEN_RACKS_MM = 250;
/** More would not be told apart. */
const MOST_POTS = 16;

type Rect = RackThumbnail['rects'][number];

/** The rack from the front: racks side by side, shelves as high as they stand; null without shelves. */
export function rackThumbnailOf({ rack }: Pick<Plan, 'rack'>): RackThumbnail | null {
  const groups = new Map<string, Shelf[]>();
  for (const shelf of rack.shelves) {
    const key = JSON.stringify(shelf.stands ?? null);
    groups.set(key, [...(groups.get(key) ?? []), shelf]);
  }
  const rects: Rect[] = [];
  let leftMm = 0;
  for (const shelves of groups.values()) {
    rects.push(...rectsOf(shelves, rack.lampKinds).map((one) => ({ ...one, x: one.x + leftMm })));
    leftMm += Math.max(...shelves.map(({ widthMm }) => widthMm)) + 2 * POST_MM + BETWEEN_RACKS_MM;
  }
  if (rects.length === 0) return null;
  const widthMm = Math.max(...rects.map(({ x, w }) => x + w));
  const topMm = Math.max(...rects.map(({ y }) => y));
  const scale = SIDE / Math.max(widthMm, topMm);
  const whole = (mm: number): number => Math.round(mm * scale * 10) / 10;
  return {
    w: whole(widthMm),
    h: whole(topMm),
    rects: rects.slice(0, 1200).map(({ kind, x, y, w, h }) => ({
      kind,
      x: whole(x),
      w: whole(w),
      h: whole(h),
      // Heights are counted from the floor, pictures from the top.
      y: whole(topMm - y),
    })),
  };
}

/** Rectangles of shelves that stand above each other; `y` is the height of the upper edge, mm. */
function rectsOf(shelves: readonly Shelf[], lampKinds: readonly LampKind[]): Rect[] {
  const top = Math.max(...shelves.map(({ heightMm, clearanceMm }) => heightMm + clearanceMm));
  const wide = Math.max(...shelves.map(({ widthMm }) => widthMm));
  const post = (x: number): Rect => ({ kind: 'post', x, y: top, w: POST_MM, h: top });
  const on = shelves.flatMap((shelf) => {
    const { heightMm, widthMm, trays, lamps } = shelf;
    const lit = lamps.map((lamp): Rect => {
      const length = lampKinds.find(({ id }) => id === lamp.kindId)?.lengthMm ?? 0;
      const w = Math.max(length, 60);
      const x = POST_MM + lamp.xMm - w / 2;
      return { kind: 'lamp', x, y: heightMm + lamp.zMm + LAMP_MM, w, h: LAMP_MM };
    });
    // Lamps behind each other are one from the front.
    const seen = lit.filter((a, i) => lit.findIndex((b) => b.x === a.x && b.y === a.y) === i);
    return [
      ...seen,
      { kind: 'shelf' as const, x: POST_MM, y: heightMm, w: widthMm, h: BOARD_MM },
      ...trays.flatMap((tray): Rect[] => {
        const { grid, xMm, rimHeightMm } = tray;
        const columns = grid ? Math.min(grid.columns, MOST_POTS) : 0;
        const pots = Array.from({ length: columns }, (_, i): Rect => {
          const pitch = grid ? (grid.pitchXMm * (grid.columns - 1)) / Math.max(1, columns - 1) : 0;
          const w = grid?.potDiameterMm ?? 0;
          const x = POST_MM + xMm + (grid?.firstXMm ?? 0) + i * pitch - w / 2;
          const h = grid?.potHeightMm ?? 0;
          return { kind: 'pot', x, y: heightMm + h, w, h };
        });
        const base: Rect = {
          kind: 'tray',
          x: POST_MM + xMm,
          y: heightMm + rimHeightMm,
          w: tray.widthMm,
          h: rimHeightMm,
        };
        return [...pots, base];
      }),
    ];
  });
  return [post(0), post(POST_MM + wide), ...on];
}

/** What is kept of a plan for the list of recent ones. */
export function recentPictureOf(plan: Plan, key: string): RecentPicture {
  return {
    key,
    title: plan.title,
    shelves: plan.rack.shelves.length,
    pots: potsOf(plan).length,
    picture: rackThumbnailOf(plan),
  };
}
