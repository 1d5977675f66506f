import { useState, type ReactNode } from 'react';
import {
  copiedTable,
  figureFile,
  type Figure,
  type FigureSize,
  type FindingsTable,
} from '../../../print/report';
import { useFindingsCurrent } from '../../../store/findingsContext';
import { useHostOffer } from '../../../store/hostContext';
import { Button, copyToClipboard, pngOf } from '../../../ui';
import { reasonOf } from '../../../words';

/** Width of a figure that leaves the window, px. */
const FILE_WIDTH = 640;

/** Buttons that copy a figure as a picture, or save it. */
export function TakeFigure(props: { label: string; draw: (size: FigureSize) => Figure | null }) {
  const host = useHostOffer();
  const taken = (take: (figure: Figure) => Promise<boolean>, done: string) => async () => {
    const found = props.draw({ width: FILE_WIDTH });
    return found && (await take(found)) ? done : null;
  };
  return (
    <Acts
      of={props.label}
      acts={{
        Copy: taken(async (found) => {
          await copyToClipboard({ 'image/png': pngOf(figureFile(found)) });
          return true;
        }, 'Copied.'),
        SVG: taken(
          (found) => host.exportText(`${found.name}.svg`, 'svg', figureFile(found)),
          'Saved.',
        ),
        PNG: taken(async (found) => {
          const picture = await pngOf(figureFile(found));
          const bytes = new Uint8Array(await picture.arrayBuffer());
          return host.exportText(`${found.name}.png`, 'png', bytes);
        }, 'Saved.'),
      }}
    />
  );
}

/** A button that copies a table: full figures as text, for a document as it is read. */
export function TakeTable({ table }: { table: FindingsTable }) {
  return (
    <Acts
      of={table.caption}
      acts={{
        Copy: async () => {
          const { text, html } = copiedTable(table);
          await copyToClipboard({ 'text/plain': text, 'text/html': html });
          return 'Copied.';
        },
      }}
    />
  );
}

const ACTS = {
  Copy: 'Copy',
  SVG: 'Save as SVG',
  PNG: 'Save as PNG',
} as const;

/** A row of small buttons; each gives what it did in a word, null where the person thought better of it. */
function Acts(props: {
  of: string;
  acts: Partial<Record<keyof typeof ACTS, () => Promise<string | null>>>;
}): ReactNode {
  const current = useFindingsCurrent();
  const [said, setSaid] = useState<string | null>(null);
  const entries = Object.entries(props.acts) as [keyof typeof ACTS, () => Promise<string | null>][];
  return (
    <div className="take-away">
      <span role="status">{said}</span>
      {entries.map(([name, act]) => (
        <Button
          key={name}
          tone="quiet"
          disabled={!current}
          aria-label={`${ACTS[name]}: ${props.of}`}
          title={ACTS[name]}
          onClick={() => {
            setSaid(null);
            act().then(setSaid, (error: unknown) => setSaid(reasonOf(error)));
          }}
        >
          {name}
        </Button>
      ))}
    </div>
  );
}
