import type { LightPlan } from '../../../shared-types/light';
import type { Canopy, Shelf, Tray } from '../../../shared-types/rack';

import { rectsOverlap, type Rect } from './rect';

type CanopyTime = LightPlan['canopyAt'];
type CanopyShelf = Pick<Shelf, 'canopy' | 'trays'>;

function heightAt({ plantingMm, harvestMm }: Canopy, at: CanopyTime): number {
  switch (at) {
    case 'planting':
      return plantingMm;
    case 'harvest':
      return harvestMm;
    case 'midway':
      return (plantingMm + harvestMm) / 2;
  }
}

/** Height of a tray's canopy above the shelf's surface: its own, or else the shelf's. mm. */
export function trayCanopyMm(
  shelf: Pick<Shelf, 'canopy'>,
  tray: Pick<Tray, 'canopy'>,
  at: CanopyTime,
): number {
  return heightAt(tray.canopy ?? shelf.canopy, at);
}

/** Whether trays have grown heights of their own, unlike their shelf's: the light there follows them. */
export function grownByTray(shelves: readonly CanopyShelf[], at: CanopyTime): boolean {
  if (at === 'planting') return false;
  return shelves.some((shelf) =>
    shelf.trays.some((tray) => trayCanopyMm(shelf, tray, at) !== heightAt(shelf.canopy, at)),
  );
}

/**
 * Height of a shelf's canopy above its surface, mm: the mean over its trays by area where some have
 * a height of their own. This plane is the floor that reflects light in the bay.
 */
export function canopyHeightMm(shelf: CanopyShelf, at: CanopyTime): number {
  const { trays, canopy } = shelf;
  if (trays.every((tray) => tray.canopy === undefined)) return heightAt(canopy, at);
  const area = ({ widthMm, depthMm }: Tray) => widthMm * depthMm;
  const whole = trays.reduce((sum, tray) => sum + area(tray), 0);
  return trays.reduce((sum, tray) => sum + area(tray) * trayCanopyMm(shelf, tray, at), 0) / whole;
}

/** The canopy's height above the surface at each place of a shelf: that of the tray there. mm. */
export function canopyOver(
  shelf: CanopyShelf,
  at: CanopyTime,
): (xMm: number, yMm: number) => number {
  const floorMm = canopyHeightMm(shelf, at);
  return (xMm, yMm) => {
    const tray = shelf.trays.find(
      (one) =>
        xMm >= one.xMm &&
        xMm <= one.xMm + one.widthMm &&
        yMm >= one.yMm &&
        yMm <= one.yMm + one.depthMm,
    );
    return tray ? trayCanopyMm(shelf, tray, at) : floorMm;
  };
}

/**
 * The tallest canopy that a shelf is ever said to have, mm; within a rectangle, of the trays that
 * reach into it, or of all where none does.
 */
export function tallestCanopyMm(shelf: CanopyShelf, within?: Rect): number {
  const there = shelf.trays.filter((tray) => !within || rectsOverlap(tray, within));
  const trays = there.length > 0 ? there : shelf.trays;
  const canopies =
    trays.length > 0 ? trays.map((tray) => tray.canopy ?? shelf.canopy) : [shelf.canopy];
  return Math.max(...canopies.flatMap(({ plantingMm, harvestMm }) => [plantingMm, harvestMm]));
}
