import { useCallback, useState } from 'react';
import { cellKey } from '../../derive/records/valueQuestions';
import type { PotOrder } from '../../document/records';
import type { EnterWay } from './grid/cellKeys';
import type { Announcement, Offer } from './grid/QuestionLine';
import type { Timepoint, PanelName } from './RecordsBar';
import type { CellPlace } from './grid/rowView';

/** What the grid shows, in which order, and where Enter goes. */
export function useGridView() {
  const [timepoint, setTimepoint] = useState<Timepoint>('all');
  const [order, setOrder] = useState<PotOrder>('there-and-back');
  const [way, setWay] = useState<EnterWay>('down');
  const [trayId, setTrayId] = useState<string | null>(null);
  /** A pot of another tray than the one shown is looked for in all of them. */
  const showTrayOf = (pot: { trayId: string }) =>
    setTrayId((shown) => (shown === null || shown === pot.trayId ? shown : null));
  return { timepoint, order, way, trayId, setTimepoint, setOrder, setWay, setTrayId, showTrayOf };
}

/** Cells that something is said or done about. The setters and `reached` stay the same functions. */
export function useCells() {
  const [current, setCurrent] = useState<CellPlace | null>(null);
  const [done, setDone] = useState<CellPlace | null>(null);
  const [wanted, setWanted] = useState<CellPlace | null>(null);
  /** What came to its end with the value that was done last. */
  const [ended, setEnded] = useState<string | null>(null);
  /** Keys of the cells that were left open by Enter. */
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  return {
    current,
    done,
    wanted,
    left,
    ended,
    setCurrent,
    setDone,
    setWanted,
    setEnded,
    reached: useCallback(() => setWanted(null), []),
    pass: ({ measurementId, potId }: CellPlace) =>
      setLeft(new Set([...left, cellKey(measurementId, potId)])),
    /** Another person enters: what the former one did is not spoken of. */
    forget: () => {
      setDone(null);
      setLeft(new Set());
    },
  };
}

/** The panel below the grid. */
export function usePanel() {
  const [panel, setPanel] = useState<PanelName | null>(null);
  const [focus, setFocus] = useState(false);
  return {
    panel,
    setPanel,
    /** The panel is to take the focus. */
    focus,
    focused: useCallback(() => setFocus(false), []),
    openPot: () => {
      setPanel('pot');
      setFocus(true);
    },
  };
}

/** What the line above the grid says, and how to say it; the latter stays the same function. */
export function useSaid() {
  const [said, setSaid] = useState<Announcement | null>(null);
  const say = useCallback((text: string | null, holds = false, offer: Offer | null = null) => {
    setSaid(text === null ? null : { text, holds, offer });
  }, []);
  return [said, say] as const;
}
