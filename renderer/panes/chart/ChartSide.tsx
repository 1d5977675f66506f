import { papers } from '../../../shared-types/paper';
import './chart.css';
import { useMemo, useState } from 'react';
import {
  defaultOptions,
  isDrawn,
  printables,
  printed,
  type Printable,
  type PrintableName,
  type PrintOptions,
} from '../../print';
import { useKept, usePlanStore, useSession } from '../../store/context';
import { useHostOffer } from '../../store/hostContext';
import { Button, EmptyState, Segmented, Select } from '../../ui';
import { chosenFit, PRINTED, PRINTERS, PRINT_OPTIONS } from './kept';
import { LabelChoices } from './LabelChoices';
import { PageChoices } from './PageChoices';
import { Preview } from './Preview';
import { PrinterChoices } from './PrinterChoices';
import { titleInRun } from '../../document/runs';
import { reasonOf } from '../../words';

/** What goes wrong on a printer that scales or shifts. */
const TO_SCALE: readonly PrintableName[] = ['labels', 'calibration', 'true-size'];

/** A preview longer than this takes its time and is not read anyway. */
const PREVIEW_PAGES = 12;

/** Until what is said has come onto the screen. */
const SAID_MS = 50;

/** Preview and printing of everything that is carried to the rack. */
export function ChartSide() {
  const plan = usePlanStore((s) => s.plan);
  const paper = useSession((s) => s.paper);
  const setPaper = useSession((s) => s.setPaper);
  const [name, setName] = useKept(PRINTED);
  const [chosen, setChosen] = useKept(PRINT_OPTIONS);
  const [printers] = useKept(PRINTERS);
  const [said, setSaid] = useState<string | null>(null);
  const options = useMemo(
    () => ({ ...fitting(chosen, paper), printer: chosenFit(printers) }),
    [chosen, paper, printers],
  );
  const offered = plan ? printables(plan, options) : [];
  const shownName = offered.some((p) => p.name === name) ? name : (offered[0]?.name ?? name);
  const preview = useMemo(
    () => (plan ? attempt(() => printed(plan, shownName, options, PREVIEW_PAGES)) : null),
    [plan, shownName, options],
  );
  if (!plan || !preview) return null;
  const pots = plan.rack.shelves.some((shelf) => shelf.trays.some((tray) => tray.grid));
  if (!pots) return <NothingYet />;
  const { made, problem } = preview;
  const change = (part: Partial<PrintOptions>) => {
    setSaid(null);
    setChosen({ ...options, ...part });
  };
  // The whole document is made when it leaves, not for every look at it.
  const send = (handOver: HandOver) => {
    const handWhole = async () => {
      if (made && made.pages > PREVIEW_PAGES) {
        // Hundreds of pages take seconds, in which nothing else can be told.
        setSaid(`Making ${made.pages} pages…`);
        await new Promise((shown) => setTimeout(shown, SAID_MS));
      }
      const whole = attempt(() => printed(plan, shownName, options)).made;
      return whole && handOver(whole, `${titleInRun(plan)} – ${whole.title}`);
    };
    handWhole().then(setSaid, (error: unknown) => setSaid(reasonOf(error)));
  };
  return (
    <div className="chart-pane" data-testid="chart-pane">
      <div className="chart-bar">
        <Select
          label="What to print"
          value={shownName}
          options={offered.map((p) => ({ value: p.name, label: p.title }))}
          onCommit={(next) => {
            setSaid(null);
            setName(next);
          }}
          testId="printables"
        />
        <Segmented
          label="Paper"
          value={paper}
          options={papers.map((value) => ({ value, label: value }))}
          onChoose={setPaper}
          testId="chart-paper"
        />
        <TakeAwayButtons disabled={!made} onSend={send} />
      </div>
      <PageChoices plan={plan} name={shownName} options={options} onChange={change} />
      {shownName === 'labels' || shownName === 'calibration' ? (
        <LabelChoices
          plan={plan}
          options={options}
          onChange={(labels) => change({ labels: { ...options.labels, ...labels } })}
        />
      ) : null}
      {TO_SCALE.includes(shownName) ? (
        <PrinterChoices paper={paper} system={plan.display.lengths} />
      ) : null}
      <p
        role="status"
        className={problem ? 'chart-said chart-problem' : 'chart-said'}
        data-testid="chart-said"
      >
        {said ?? problem ?? countWords(made)}
        {isDrawn(plan) ? null : ' Charts and recording sheets come with the drawn layout.'}
      </p>
      {made ? <Preview title={made.title} html={made.html} /> : null}
    </div>
  );
}

/** Takes the whole document, and its name without an ending; what to say of it afterwards. */
type HandOver = (whole: Printable, fileName: string) => Promise<string | null>;

/** To the printer, or as a file. */
function TakeAwayButtons(props: { disabled: boolean; onSend: (handOver: HandOver) => void }) {
  const { disabled, onSend } = props;
  const host = useHostOffer();
  const print: HandOver = ({ html }) => host.print(html).then(() => null);
  const savePdf: HandOver = ({ html }, file) =>
    host.savePdf(`${file}.pdf`, html).then((result) => PDF_WORDS[result]);
  const saveHtml: HandOver = ({ html }, file) =>
    host.exportText(`${file}.html`, 'html', html).then((saved) => (saved ? 'HTML saved.' : null));
  return (
    <div className="chart-actions">
      <Button tone="primary" disabled={disabled} onClick={() => onSend(print)}>
        Print…
      </Button>
      <Button disabled={disabled} onClick={() => onSend(savePdf)}>
        Save PDF…
      </Button>
      <Button tone="quiet" disabled={disabled} onClick={() => onSend(saveHtml)}>
        Save HTML…
      </Button>
    </div>
  );
}

/** What is lacking before anything can be printed. */
function NothingYet() {
  const goTo = useSession((s) => s.goTo);
  return (
    <EmptyState
      title="Nothing to print yet"
      actions={
        <Button tone="primary" onClick={() => goTo('rack')}>
          Draw trays and pots
        </Button>
      }
    >
      Labels need trays with pots; charts and recording sheets need the drawn layout, too.
    </EmptyState>
  );
}

const PDF_WORDS = {
  saved: 'PDF saved.',
  cancelled: null,
  unavailable: 'A browser saves PDF from its own print dialogue: choose Print…',
} as const;

function countWords(made: Printable | null): string {
  if (!made) return 'There is nothing of this kind to print.';
  const pages = made.pages === 1 ? '1 page' : `${made.pages} pages`;
  return made.pages > PREVIEW_PAGES
    ? `${pages}, of which the first ${PREVIEW_PAGES} are shown.`
    : `${pages}.`;
}

/** Options on another paper: labels go back to plain ones, which are made for each paper. */
function fitting(options: PrintOptions, paper: PrintOptions['paper']): PrintOptions {
  if (options.paper === paper) return options;
  const { geometry } = defaultOptions(paper).labels;
  return { ...options, paper, labels: { ...options.labels, geometry, startCell: 1 } };
}

function attempt(make: () => Printable | null): { made: Printable | null; problem: string | null } {
  try {
    return { made: make(), problem: null };
  } catch (error) {
    return { made: null, problem: reasonOf(error) };
  }
}
