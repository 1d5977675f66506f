import type { Plan } from '../../../shared-types/plan';
import type { Lamp, PotGrid, Shelf, Tray } from '../../../shared-types/rack';
import * as parts from '../../builders/rackParts';

/** The parts of the canvas tests: trays of 500 × 400 mm with 4 × 5 pots, which leave room aside. */

export function gridOf(change: Partial<PotGrid> = {}): PotGrid {
  return parts.gridOf({
    rows: 4,
    columns: 5,
    pitchXMm: 100,
    pitchYMm: 100,
    potDiameterMm: 90,
    firstXMm: 50,
    firstYMm: 50,
    ...change,
  });
}

export function trayOf(id: string, letter: string, change: Partial<Tray> = {}): Tray {
  return parts.trayOf({ id, letter, widthMm: 500, depthMm: 400, grid: gridOf(), ...change });
}

export const stripKind = parts.kindOf({ name: 'Strip', lengthMm: 1000, powerW: 36 });

export function lampOf(id: string, change: Partial<Lamp> = {}): Lamp {
  return parts.lampOf({ id, ...change });
}

export function shelfOf(id: string, number: number, change: Partial<Shelf> = {}): Shelf {
  return parts.shelfOf({ id, number, heightMm: 300 + (number - 1) * 500, ...change });
}

export function planOf(shelves: Shelf[]): Plan {
  return parts.planOf('Canvas', { shelves, lampKinds: [stripKind] });
}
