import type { LampKind, Shelf } from '../../../../shared-types/rack';
import { bayAt, baysOf, canopyHeightMm, potsOfTray, trayCanopyMm } from '../../geometry';
import { real } from '../../entry';
import { shelfAfter } from '../hours';
import { shelfModel } from '../model';
import type { LightBasis } from '../potLight';
import { shelfLight } from '../shelfLight';
import { directShade, lampPieces, skyShade } from './shade';
import type { Stand } from './stands';

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
  tallerByMm: number;
}

/** Neighbours that are spoken of stand within so many widths of a pot. */
const NEXT = 2.1;

/**
 * Light at each plant's own height over one shelf (PPFD at the middle of its top) with the shade of
 * taller neighbours in the same bay, taken as opaque and as wide as their pots. Reflected light is
 * shaded as light from all round. `heightOf` tells a plant's height above the shelf's surface where
 * it is known; else it has its tray's canopy. Plants that reach a lamp are left out. Throws where the shelf's light cannot be computed.
 */
export function lightAtOwnHeight(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  light: LightBasis,
  heightOf: (potId: string, trayId: string) => number | null,
): OwnHeightLight[] {
  const pots = shelf.trays.flatMap((tray) => {
    const canopyMm = trayCanopyMm(shelf, tray, light.canopyAt);
    return potsOfTray(shelf, tray).map((pot) => {
      const topMm = heightOf(pot.id, tray.id) ?? canopyMm;
      const stand: Stand = { xMm: pot.xMm, yMm: pot.yMm, topMm, radiusMm: pot.diameterMm / 2 };
      return { pot, canopyMm, stand };
    });
  });
  const heightMm = canopyHeightMm(shelf, light.canopyAt);
  const worn = shelfAfter(shelf, lampKinds, light, light.burntDays ?? 0);
  const request = { heightMm, reflected: true, readings: light.readings, worn };
  const at = shelfLight(shelf, lampKinds, request).at;
  const bare = shelfModel(shelf, lampKinds, { heightMm, reflected: false });
  const tops = pots.map(({ stand: { xMm, yMm, topMm } }) => ({ xMm, yMm, zMm: topMm }));
  const open = at(tops);
  const canopy = at(tops.map((point, i) => ({ ...point, zMm: pots[i]?.canopyMm ?? point.zMm })));
  const direct = bare.at(tops);
  const all = shelfModel(shelf, lampKinds, { heightMm, reflected: true }).at(tops);
  const bays = baysOf(shelf);
  const inBay = new Map(
    bays.map(({ id }) => [
      id,
      {
        stands: pots.filter(({ pot }) => pot.bayId === id).map(({ stand }) => stand),
        pieces: lampPieces(
          shelf.lamps.filter(({ xMm, yMm }) => bayAt(bays, xMm, yMm).id === id),
          lampKinds,
        ),
      },
    ]),
  );
  return pots.flatMap(({ pot, stand }, i) => {
    const { stands = [], pieces = [] } = inBay.get(pot.bayId) ?? {};
    if (pieces.some(({ zMm }) => zMm <= stand.topMm)) return [];
    const whole = real(all, i);
    const straight = whole > 0 ? Math.min(1, real(direct, i) / whole) : 1;
    const shaded =
      straight * directShade(stand, stands, pieces) + (1 - straight) * skyShade(stand, stands);
    const next = stands.filter(
      (other) =>
        Math.hypot(other.xMm - stand.xMm, other.yMm - stand.yMm) <= NEXT * 2 * other.radiusMm,
    );
    return [
      {
        potId: pot.id,
        heightMm: stand.topMm,
        openUmol: real(open, i),
        canopyUmol: real(canopy, i),
        shadedShare: shaded,
        tallerByMm: Math.max(0, ...next.map(({ topMm }) => topMm - stand.topMm)),
      },
    ];
  });
}
