import { editLight } from '../../document/commands';
import { type LightSummary, potByIdOf, potLightOf, trayCode } from '../../derive';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import {
  EmptyState,
  Facts,
  FieldRow,
  fixed,
  formatLength,
  NumberField,
  percent,
  Section,
  Select,
  Table,
  type TableColumn,
} from '../../ui';

interface EvenRow {
  ref: string;
  name: string;
  isShelf: boolean;
  summary: LightSummary;
}

/** Photoperiod, target and evenness of the light; figures of the pot that is selected. */
export function LightSide() {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  const dispatch = useDispatch();
  const selection = useSession((s) => s.selection);
  const select = useSession((s) => s.select);
  if (!plan) return null;
  const { light } = plan;
  const potLight = potLightOf(plan);
  const rows: EvenRow[] = plan.rack.shelves.flatMap((shelf) => {
    const own = potLight.shelves.get(shelf.id);
    const trays = shelf.trays.flatMap((tray): EvenRow[] => {
      const summary = potLight.trays.get(tray.id);
      if (!summary) return [];
      const name = `Tray ${trayCode(shelf.number, tray.letter)}`;
      return [{ ref: `tray:${tray.id}`, name, isShelf: false, summary }];
    });
    return own
      ? [
          { ref: `shelf:${shelf.id}`, name: `Shelf ${shelf.number}`, isShelf: true, summary: own },
          ...trays,
        ]
      : trays;
  });
  const lamps = plan.rack.shelves.some((shelf) => shelf.lamps.length > 0);
  const pot = selection
    .filter((ref) => ref.startsWith('pot:'))
    .map((ref) => potByIdOf(plan).get(ref.slice(4)))[0];
  const potValue = pot ? potLight.pots.get(pot.id) : undefined;

  return (
    <>
      <Section title="What the light should be">
        <FieldRow>
          <NumberField
            label="Photoperiod"
            unit="h/day"
            value={light.photoperiodHours}
            lowest={0}
            highest={24}
            step={0.5}
            testId="photoperiod"
            onCommit={(photoperiodHours) => dispatch(editLight, { patch: { photoperiodHours } })}
          />
          <NumberField
            label="Least min : mean"
            value={light.lowestMinToMean}
            lowest={0}
            highest={1}
            step={0.05}
            decimals={2}
            onCommit={(lowestMinToMean) => dispatch(editLight, { patch: { lowestMinToMean } })}
          />
        </FieldRow>
        <FieldRow>
          <NumberField
            label="Target PPFD from"
            unit="µmol m⁻² s⁻¹"
            value={light.targetPpfdUmol?.lowest ?? null}
            lowest={0}
            highest={5000}
            step={10}
            onCommit={(lowest) =>
              dispatch(editLight, {
                patch: {
                  targetPpfdUmol: {
                    lowest,
                    highest: Math.max(lowest, light.targetPpfdUmol?.highest ?? lowest),
                  },
                },
              })
            }
          />
          <NumberField
            label="to"
            unit="µmol m⁻² s⁻¹"
            value={light.targetPpfdUmol?.highest ?? null}
            lowest={0}
            highest={5000}
            step={10}
            onCommit={(highest) =>
              dispatch(editLight, {
                patch: {
                  targetPpfdUmol: {
                    highest,
                    lowest: Math.min(highest, light.targetPpfdUmol?.lowest ?? highest),
                  },
                },
              })
            }
          />
        </FieldRow>
        <Select
          label="Canopy height used"
          value={light.canopyAt}
          options={[
            { value: 'planting', label: 'at planting' },
            { value: 'midway', label: 'midway between planting and harvest' },
            { value: 'harvest', label: 'at harvest' },
          ]}
          onCommit={(canopyAt) => dispatch(editLight, { patch: { canopyAt } })}
        />
      </Section>
      {pot && potValue ? (
        <Section title={`Pot ${pot.code}`}>
          <Facts
            rows={[
              ['PPFD', `${fixed(potValue.ppfdUmol, 0)} µmol m⁻² s⁻¹`],
              ['DLI', `${fixed(potValue.dliMol, 1)} mol m⁻² d⁻¹`],
              ['Figure is', potValue.source],
              ['From the tray’s side', formatLength(pot.edgeDistanceMm, plan.display.lengths)],
            ]}
          />
        </Section>
      ) : null}
      <Section title="Evenness at the pots">
        {!lamps || rows.length === 0 ? (
          <EmptyState title="No light to judge yet">
            Hang lamps over the shelves in the Rack stage and put pots into the trays; the figures
            for every tray follow at once.
          </EmptyState>
        ) : (
          <>
            <Table
              caption="Evenness of PPFD by shelf and tray"
              columns={columns(light.photoperiodHours)}
              rows={rows}
              rowKey={(row) => row.ref}
              isMarked={(row) => selection.includes(row.ref)}
              onRowClick={(row) => select([row.ref])}
              testId="evenness"
            />
            <p className="field-remark">
              {rows[0]?.summary.source === 'calibrated'
                ? 'Calibrated by meter readings.'
                : 'Estimated from the lamps’ figures; no meter reading stands behind it.'}{' '}
              Computed at every pot’s centre. CV uses n − 1.
            </p>
          </>
        )}
      </Section>
    </>
  );
}

function columns(hours: number): TableColumn<EvenRow>[] {
  const figure = (value: number | null | undefined, decimals: number) =>
    value === null || value === undefined ? '–' : fixed(value, decimals);
  return [
    { key: 'name', head: 'Where', cell: (r) => (r.isShelf ? <strong>{r.name}</strong> : r.name) },
    {
      key: 'mean',
      head: 'PPFD',
      numeric: true,
      cell: (r) => figure(r.summary.evenness?.mean, 0),
    },
    {
      key: 'dli',
      head: 'DLI',
      numeric: true,
      cell: (r) =>
        r.summary.evenness ? fixed((r.summary.evenness.mean * hours * 3600) / 1e6, 1) : '–',
    },
    {
      key: 'range',
      head: 'min–max',
      numeric: true,
      cell: (r) =>
        r.summary.evenness
          ? `${fixed(r.summary.evenness.min, 0)}–${fixed(r.summary.evenness.max, 0)}`
          : '–',
    },
    {
      key: 'minmean',
      head: 'min : mean',
      numeric: true,
      cell: (r) => figure(r.summary.evenness?.minToMean, 2),
    },
    {
      key: 'minmax',
      head: 'min : max',
      numeric: true,
      cell: (r) => figure(r.summary.evenness?.minToMax, 2),
    },
    {
      key: 'cv',
      head: 'CV',
      numeric: true,
      cell: (r) => {
        const cv = r.summary.evenness?.cvPercent;
        return cv === null || cv === undefined ? '–' : percent(cv / 100, 1);
      },
    },
    {
      key: 'within',
      head: 'within ±10 %',
      numeric: true,
      cell: (r) => (r.summary.evenness ? percent(r.summary.evenness.shareWithin10Percent) : '–'),
    },
  ];
}
