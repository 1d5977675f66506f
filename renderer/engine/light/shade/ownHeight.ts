import type { LampKind, Shelf } from '../../../../shared-types/rack';
import { bayAt, baysOf, canopyHeightMm, potsOfTray, trayCanopyMm, type Pot } from '../../geometry';
import { real } from '../../entry';
import { shelfAfter } from '../hours';
import { shelfModel } from '../model';
import type { LightBasis } from '../shelfFigures';
import { shelfLight } from '../shelfLight';
import { directShade, lampPieces, skyShade } from './shade';
import { withLeaves, type Stand } from './stands';

/** The light of one plant at the top of its own leaves, and what its neighbours take of it. */
export interface OwnHeightLight {
  potId: string;
  /** Above the shelf's surface. */
  heightMm: number;
  /** PPFD there without any neighbour's shade, and at the canopy that the figures are for. */
  openUmol: number;
  canopyUmol: number;
  /** Estimated share that taller neighbours take, and how far the tallest of those next to it rise. */
  shadedShare: number;
  /** The same with narrow leaves and with wide ones, for nobody measured them. */
  shadedLowest: number;
  shadedHighest: number;
  tallerByMm: number;
}

/** Neighbours that are spoken of stand within so many widths of a pot. */
const NEXT = 2.1;

interface Standing {
  pot: Pot;
  canopyMm: number;
  stand: Stand;
}

/**
 * Light at each plant's own height over one shelf (PPFD at the middle of its top) with the shade of
 * taller neighbours in the same bay, taken as opaque and as wide as their pots; the range is that of
 * leaves from four fifths of their pots' width to touching. Reflected light is
 * shaded as light from all round. `heightOf` tells a plant's height above the shelf's surface where
 * it is known; else it has its tray's canopy. Plants that reach a lamp are left out. Throws where the
 * shelf's light cannot be computed.
 */
export function lightAtOwnHeight(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  light: LightBasis,
  heightOf: (potId: string, trayId: string) => number | null,
): OwnHeightLight[] {
  const pots = shelf.trays.flatMap((tray) => {
    const canopyMm = trayCanopyMm(shelf, tray, light.canopyAt);
    return potsOfTray(shelf, tray).map((pot): Standing => {
      const topMm = heightOf(pot.id, tray.id) ?? canopyMm;
      const stand: Stand = { xMm: pot.xMm, yMm: pot.yMm, topMm, radiusMm: pot.diameterMm / 2 };
      return { pot, canopyMm, stand };
    });
  });
  const bays = baysOf(shelf);
  const lit = lightOverTops(shelf, lampKinds, light, pots);
  const shadeIn = new Map(
    bays.map(({ id }) => {
      const own = pots.filter(({ pot }) => pot.bayId === id).map(({ stand }) => stand);
      const lamps = shelf.lamps.filter(({ xMm, yMm }) => bayAt(bays, xMm, yMm).id === id);
      return [id, shadeAmong(own, lampPieces(lamps, lampKinds))];
    }),
  );
  return pots.flatMap(({ pot, stand }, i) => {
    const shade = shadeIn.get(pot.bayId)?.(stand, real(lit.straight, i));
    if (!shade) return [];
    const heightMm = stand.topMm;
    const [openUmol, canopyUmol] = [real(lit.open, i), real(lit.canopy, i)];
    return [{ potId: pot.id, heightMm, openUmol, canopyUmol, ...shade }];
  });
}

/** PPFD at the plants' tops and at their trays' canopies, and which share comes straight from lamps. */
function lightOverTops(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  light: LightBasis,
  pots: readonly Standing[],
) {
  const heightMm = canopyHeightMm(shelf, light.canopyAt);
  const worn = shelfAfter(shelf, lampKinds, light, light.burntDays ?? 0);
  const request = { heightMm, reflected: true, readings: light.readings, worn };
  const at = shelfLight(shelf, lampKinds, request).at;
  const tops = pots.map(({ stand: { xMm, yMm, topMm } }) => ({ xMm, yMm, zMm: topMm }));
  const direct = shelfModel(shelf, lampKinds, { heightMm, reflected: false }).at(tops);
  const all = shelfModel(shelf, lampKinds, { heightMm, reflected: true }).at(tops);
  return {
    open: at(tops),
    canopy: at(tops.map((point, i) => ({ ...point, zMm: pots[i]?.canopyMm ?? point.zMm }))),
    straight: direct.map((value, i) => (real(all, i) > 0 ? Math.min(1, value / real(all, i)) : 1)),
  };
}

/** What the plants of a bay take of each other's light; null for one that reaches a lamp. */
function shadeAmong(stands: readonly Stand[], pieces: ReturnType<typeof lampPieces>) {
  const narrow = withLeaves(stands, 'narrow');
  const touching = withLeaves(stands, 'touching');
  return (own: Stand, straight: number) => {
    if (pieces.some(({ zMm }) => zMm <= own.topMm)) return null;
    const taken = (by: readonly Stand[]) =>
      straight * directShade(own, by, pieces) + (1 - straight) * skyShade(own, by);
    const next = stands.filter(
      (other) => Math.hypot(other.xMm - own.xMm, other.yMm - own.yMm) <= NEXT * 2 * other.radiusMm,
    );
    return {
      shadedShare: taken(stands),
      shadedLowest: taken(narrow),
      shadedHighest: taken(touching),
      tallerByMm: Math.max(0, ...next.map(({ topMm }) => topMm - own.topMm)),
    };
  };
}
