import { useHostOffer } from '../../../store/hostContext';
import { useStartJob } from '../../../store/jobsContext';
import { bytesOfSigns } from '../../../tables/encoding';
import { reasonOf } from '../../../words';
import type { TableFile } from './tableFormat';

/** Lets the person choose a table; a workbook is unpacked away from the screen's thread: a large one takes seconds. */
export function useOpenTable(
  onTable: (file: TableFile) => void,
  say: (text: string | null) => void,
): () => void {
  const host = useHostOffer();
  const startJob = useStartJob();
  const open = async () => {
    const opened = await host.open('records');
    if (!opened) return;
    const { name } = opened.ref;
    say(null);
    if (!opened.bytes) return onTable({ name, text: opened.text });
    say(`Reading ${name}…`);
    const bytes = bytesOfSigns(opened.text);
    const { result } = startJob('workbook', { bytes }, () => undefined);
    const book = await result;
    say(null);
    onTable({ name, book });
  };
  return () => {
    open().catch((error: unknown) => say(reasonOf(error)));
  };
}
