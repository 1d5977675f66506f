import type { LineEnd } from './grid/lineEnds';

/** Seconds and hertz: high enough to be heard over pumps. */
const TONE = { seconds: 0.12, pause: 0.06, hertz: 880, loud: 0.2 };
const TONES: Record<LineEnd, number> = { row: 1, tray: 2, all: 3 };

let context: AudioContext | null = null;

/** One tone at the end of a row, two at that of a tray, three at the last pot. */
export function soundLineEnd(end: LineEnd): void {
  context ??= new AudioContext();
  // A computer that slept wakes it no more by itself.
  if (context.state === 'suspended') void context.resume();
  for (let i = 0; i < TONES[end]; i++) {
    const starts = context.currentTime + i * (TONE.seconds + TONE.pause);
    const tone = context.createOscillator();
    const volume = context.createGain();
    volume.gain.value = TONE.loud;
    tone.frequency.value = TONE.hertz;
    tone.connect(volume).connect(context.destination);
    tone.start(starts);
    tone.stop(starts + TONE.seconds);
  }
}
