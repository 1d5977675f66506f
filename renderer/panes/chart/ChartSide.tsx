import './chart.css';
import { useMemo, useState } from 'react';
import { printables, type PrintableName } from '../../print';
import { usePlanStore, useSession } from '../../store/context';
import { useHostOffer } from '../../store/hostContext';
import { Button, EmptyState, Segmented } from '../../ui';

/** Preview and printing of everything that is carried to the rack. */
export function ChartSide() {
  const plan = usePlanStore((s) => s.plan);
  const paper = useSession((s) => s.paper);
  const setPaper = useSession((s) => s.setPaper);
  const goTo = useSession((s) => s.goTo);
  const host = useHostOffer();
  const [name, setName] = useState<PrintableName>('planting-charts');
  const [said, setSaid] = useState<string | null>(null);
  const all = useMemo(() => (plan ? printables(plan, paper) : []), [plan, paper]);
  if (!plan) return null;
  const ready = plan.layout !== null || (plan.trial !== null && plan.trial.factors.length === 0);
  const shown = all.find((p) => p.name === name) ?? all[0];
  if (!ready || !shown) {
    return (
      <EmptyState
        title="Nothing to print yet"
        actions={
          <Button tone="primary" onClick={() => goTo(plan.trial ? 'layout' : 'trial')}>
            {plan.trial ? 'Draw the layout' : 'Plan the trial'}
          </Button>
        }
      >
        Planting charts, labels and recording sheets are made from the drawn layout.
      </EmptyState>
    );
  }
  const fileName = `${plan.title.replace(/[\\/:*?"<>|]+/g, ' ')} – ${shown.title}`;
  const tell = (work: Promise<string | null>) => {
    work.then(setSaid, (error: unknown) =>
      setSaid(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <div className="chart-pane">
      <div className="chart-bar">
        <Segmented
          label="What to print"
          value={shown.name}
          options={all.map((p) => ({ value: p.name, label: p.title }))}
          onChoose={setName}
          testId="printables"
        />
        <Segmented
          label="Paper"
          value={paper}
          options={[
            { value: 'A4', label: 'A4' },
            { value: 'Letter', label: 'Letter' },
          ]}
          onChoose={setPaper}
        />
        <Button tone="primary" onClick={() => tell(host.print(shown.html).then(() => null))}>
          Print…
        </Button>
        <Button
          onClick={() =>
            tell(
              host
                .savePdf(`${fileName}.pdf`, shown.html)
                .then((result) =>
                  result === 'saved'
                    ? 'PDF saved.'
                    : result === 'unavailable'
                      ? 'A browser saves PDF from its own print dialogue: choose Print…'
                      : null,
                ),
            )
          }
        >
          Save PDF…
        </Button>
        <Button
          tone="quiet"
          onClick={() =>
            tell(host.exportText(`${fileName}.html`, 'html', shown.html).then(() => null))
          }
        >
          Save HTML…
        </Button>
      </div>
      <p role="status" className="chart-said">
        {said ??
          `${shown.title}: ${shown.pages} ${shown.pages === 1 ? 'page' : 'pages'} of ${paper}.`}
      </p>
      <iframe
        className="chart-preview"
        title={`Preview: ${shown.title}`}
        sandbox=""
        srcDoc={shown.html.replace('</head>', `${PREVIEW_CSS}</head>`)}
        data-testid="chart-preview"
      />
    </div>
  );
}

// Pages are shown smaller than life, so that a whole width fits beside the rack.
const PREVIEW_CSS = '<style>@media screen{body{zoom:.62}}</style>';
