import type { PotOrder } from '../../document/records';
import type { Pot } from '../../engine/geometry';
import { useKept } from '../../store/context';
import { lineEnd, sayLineEnd } from './grid/lineEnds';
import { LINE_END_SOUND } from './panels/KeysPanel';
import { soundLineEnd } from './tones';

/** Tells the end of a row or tray as the cursor goes on, and sounds it where that is wished. */
export function useLineEnds(order: PotOrder, tell: (words: string) => void) {
  const [sound] = useKept(LINE_END_SOUND);
  return (from: Pot, next: Pot | null): void => {
    const end = lineEnd(from, next, order);
    if (end === null) return;
    tell(sayLineEnd(end, from, order));
    if (sound) soundLineEnd(end);
  };
}
