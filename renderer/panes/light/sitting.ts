import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import type { RotaPeriod } from '../../derive';

/** A point over a shelf where a reading is to be entered. */
export interface ReadingPlace {
  shelfId: string;
  xMm: number;
  yMm: number;
}

interface LightSitting {
  /** The place clicked last with the tool for readings. */
  place: ReadingPlace | null;
  /** Tray moves that are being tried; they are no part of the plan. */
  rota: readonly RotaPeriod[];
  /** How long the trial lasts, where it has no dates. */
  days: number;
}

const USUAL_DAYS = 35;

const sitting = createStore<LightSitting>()(() => ({ place: null, rota: [], days: USUAL_DAYS }));

/** What belongs to this sitting at the light stage and to no plan. */
export function useLightSitting<T>(selector: (state: LightSitting) => T): T {
  return useStore(sitting, selector);
}

/** A click of the tool `reading` on a shelf: the next value entered was taken there. */
export function placeReading(shelfId: string, xMm: number, yMm: number): void {
  sitting.setState({ place: { shelfId, xMm: Math.round(xMm), yMm: Math.round(yMm) } });
}

export function forgetPlace(): void {
  sitting.setState({ place: null });
}

export function setRota(rota: readonly RotaPeriod[]): void {
  sitting.setState({ rota });
}

export function setDays(days: number): void {
  sitting.setState({ days });
}
