import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';

/** A point over a shelf where a reading is to be entered. */
export interface ReadingPlace {
  shelfId: string;
  xMm: number;
  yMm: number;
}

interface LightSession {
  /** The place clicked last with the tool for readings. */
  place: ReadingPlace | null;
  /** How long the trial lasts, as typed where it has no dates. */
  days: number | null;
  /** Pots show their mean over the trial, where trays are moved. */
  overTrial: boolean;
}

const lightSession = createStore<LightSession>()(() => ({
  place: null,
  days: null,
  overTrial: false,
}));

/** What belongs to this session at the light stage and to no plan. */
export function useLightSession<T>(selector: (state: LightSession) => T): T {
  return useStore(lightSession, selector);
}

/** A click of the tool `reading` on a shelf: the next value entered was taken there. */
export function placeReading(shelfId: string, xMm: number, yMm: number): void {
  lightSession.setState({ place: { shelfId, xMm: Math.round(xMm), yMm: Math.round(yMm) } });
}

export function forgetPlace(): void {
  lightSession.setState({ place: null });
}

export function setDays(days: number): void {
  lightSession.setState({ days });
}

export function showOverTrial(overTrial: boolean): void {
  lightSession.setState({ overTrial });
}
