import { useCallback, useMemo, useState, type ReactNode } from 'react';
import type { Host } from '../../host/host';
import type { FileActions } from './files';
import { RecoveryDialog } from './RecoveryDialog';
import { sortCopies, type UsableCopy } from './recoveries';

/**
 * The copies of unsaved work that earlier sessions left, and the dialog that offers them. `look`
 * answers whether there is anything to offer; copies that cannot be opened are named through `say`.
 */
export function useRecovery(
  host: Host,
  files: FileActions,
  say: (problem: string | null) => void,
): { look: () => Promise<boolean>; waiting: number; show: () => void; dialog: ReactNode } {
  const [copies, setCopies] = useState<readonly UsableCopy[]>([]);
  const [open, setOpen] = useState(false);
  const look = useCallback(async () => {
    const { usable, unreadable, spent } = sortCopies(await host.recoveries());
    for (const copy of spent) await host.forgetRecovery(copy);
    if (unreadable.length > 0) say(`Kept copies of unsaved work: ${unreadable.join(' ')}`);
    setCopies(usable);
    setOpen(usable.length > 0);
    return usable.length > 0;
  }, [host, say]);
  const drop = (used: UsableCopy) => {
    const rest = copies.filter((copy) => copy !== used);
    setCopies(rest);
    if (rest.length === 0) setOpen(false);
  };
  const dialog = open ? (
    <RecoveryDialog
      copies={copies}
      onClose={() => setOpen(false)}
      onThrowAway={(copy) => {
        drop(copy);
        void host.forgetRecovery(copy.copy);
      }}
      onUse={(copy) => {
        setOpen(false);
        void files.recover(copy).then((problem) => {
          say(problem);
          if (problem === null) drop(copy);
        });
      }}
    />
  ) : null;
  const show = useMemo(() => () => setOpen(true), []);
  return { look, waiting: copies.length, show, dialog };
}
