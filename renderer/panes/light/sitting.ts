import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';

/** A point over a shelf where a reading is to be entered. */
export interface ReadingPlace {
  shelfId: string;
  xMm: number;
  yMm: number;
}

interface LightSitting {
  /** The place clicked last with the tool for readings. */
  place: ReadingPlace | null;
  /** How long the trial lasts, as typed where it has no dates. */
  days: number | null;
  /** Pots show their mean over the trial, where trays are moved. */
  overTrial: boolean;
}

const sitting = createStore<LightSitting>()(() => ({ place: null, days: null, overTrial: false }));

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

export function setDays(days: number): void {
  sitting.setState({ days });
}

export function showOverTrial(overTrial: boolean): void {
  sitting.setState({ overTrial });
}
