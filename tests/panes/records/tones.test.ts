import { afterEach, expect, it, vi } from 'vitest';
import { soundLineEnd } from '../../../renderer/panes/records/tones';

afterEach(() => vi.unstubAllGlobals());

/** What a sound card would be given: the spans in which each tone sounds, and where it leads. */
function soundCard() {
  const tones: { from: number; to: number; hertz: number; loud: number; heard: boolean }[] = [];
  let made = 0;
  const resumed = vi.fn(() => Promise.resolve());
  class FakeAudioContext {
    currentTime = 5;
    state = 'suspended';
    destination = {};
    resume = resumed;
    constructor() {
      made++;
    }
    createGain() {
      return { gain: { value: 1 } };
    }
    createOscillator() {
      const frequency = { value: 440 };
      const tone = { from: NaN, to: NaN, hertz: 0, loud: 0, heard: false };
      tones.push(tone);
      return {
        frequency,
        connect: (volume: { gain: { value: number } }) => ({
          connect: (to: unknown) => {
            tone.loud = volume.gain.value;
            tone.heard = to === this.destination;
          },
        }),
        start: (at: number) => {
          tone.from = at;
          tone.hertz = frequency.value;
        },
        stop: (at: number) => {
          tone.to = at;
        },
      };
    }
  }
  vi.stubGlobal('AudioContext', FakeAudioContext);
  return { tones, resumed, made: () => made };
}

it('sounds one tone at the end of a row, two at that of a tray, three at the last pot', () => {
  const { tones, resumed, made } = soundCard();
  for (const [end, count] of [
    ['row', 1],
    ['tray', 2],
    ['all', 3],
  ] as const) {
    tones.length = 0;
    soundLineEnd(end);
    expect(tones).toHaveLength(count);
    for (const [i, tone] of tones.entries()) {
      // Audible, and apart from the tone before it.
      expect(tone).toMatchObject({ heard: true, hertz: 880 });
      expect(tone.loud).toBeGreaterThan(0);
      expect(tone.to - tone.from).toBeCloseTo(0.12);
      if (i > 0) expect(tone.from).toBeGreaterThan(tones[i - 1]?.to ?? Infinity);
    }
    expect(tones[0]?.from).toBe(5);
  }
  expect(made()).toBe(1);
  expect(resumed).toHaveBeenCalled();
});
