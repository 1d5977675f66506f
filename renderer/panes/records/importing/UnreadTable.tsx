import { Button, Dialog } from '../../../ui';
import { ImportFormat, type TableFormat } from './ImportFormat';

/** A table of which nothing can be made as it is read, and how else it may be. */
export function UnreadTable(props: {
  title: string;
  problem: string | null;
  format: TableFormat;
  onClose: () => void;
}) {
  const { title, problem, format, onClose } = props;
  return (
    <Dialog title={title} onClose={onClose} actions={<Button onClick={onClose}>Close</Button>}>
      <p role="alert">{problem}</p>
      <ImportFormat format={format} />
    </Dialog>
  );
}
