import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Shelf } from '../../../shared-types/rack';
import { mapOf } from '../../derive';
import { canopyHeightMm } from '../../engine/geometry';
import type { ArrangeAnswer, Arrangement } from '../../engine/light';
import { arrangeLamps } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { useJob } from '../../store/jobsContext';
import {
  Button,
  Checkbox,
  FieldList,
  FieldRow,
  JobButton,
  Select,
  Table,
  type FieldOf,
} from '../../ui';
import { ShelfChoice } from './shelfInQuestion';
import { rangeOf, ShelfMap } from './ShelfMap';
import { fixed, formatLength, percent, plural, type UnitSystem } from '../../words';

// What is usual between plants and lamps, and what a lamp's body needs under the shelf above.
const CLEAR_MM = 100;
const HEADROOM_MM = 10;

/** What is asked of the search, beside the lamp. */
interface Asked {
  count: number;
  meanUmol: number;
  aboveCanopyMm: number;
  highestMm: number;
  apartMm: number;
}

const LIGHT: readonly FieldOf<Asked>[] = [
  {
    ...{ as: 'number', key: 'count', label: 'How many', testId: 'arrange-count' },
    ...{ whole: true, lowest: 1, highest: 60 },
  },
  {
    ...{ as: 'number', key: 'meanUmol', label: 'Mean PPFD wanted', testId: 'arrange-mean' },
    ...{ unit: 'µmol m⁻² s⁻¹', lowest: 1, highest: 5000, step: 10 },
  },
];
const PLACES: readonly FieldOf<Asked>[] = [
  {
    ...{ as: 'length', key: 'aboveCanopyMm', label: 'Clear of grown plants' },
    ...{ lowestMm: 1, testId: 'arrange-clear' },
  },
  {
    ...{ as: 'length', key: 'highestMm', label: 'Not higher than' },
    ...{ lowestMm: 1, testId: 'arrange-highest' },
  },
  { as: 'length', key: 'apartMm', label: 'Rows apart', lowestMm: 0 },
];

/** Finds places, height and dimming for a shelf's lamps; nothing is changed until accepted. */
export function ArrangePanel({ plan, shelf }: { plan: Plan; shelf: Shelf }) {
  const job = useJob('arrange');
  const heightMm = canopyHeightMm(shelf, plan.light.canopyAt);
  const target = plan.light.targetPpfdUmol;
  const [typed, setTyped] = useState<Partial<Asked>>({});
  const [chosenKind, setKind] = useState<string | null>(null);
  const [ownDimming, setOwnDimming] = useState(false);
  const [askedFor, setAskedFor] = useState<Shelf | null>(null);
  const { lampKinds } = plan.rack;
  const kindId = chosenKind ?? shelf.lamps[0]?.kindId ?? lampKinds[0]?.id;
  const kind = lampKinds.find((k) => k.id === kindId);
  if (!kind) return <p className="field-remark">Add a lamp in the Rack stage first.</p>;
  const grownMm = Math.max(heightMm, shelf.canopy.harvestMm);
  const highestMm = typed.highestMm ?? shelf.clearanceMm - HEADROOM_MM;
  const asked: Asked = {
    count: Math.max(1, shelf.lamps.length),
    meanUmol: target ? (target.lowest + target.highest) / 2 : 200,
    highestMm,
    aboveCanopyMm: Math.max(1, Math.min(CLEAR_MM, highestMm - grownMm)),
    apartMm: 60,
    ...typed,
  };
  const { count, meanUmol, ...heights } = asked;
  const onChange = (patch: Partial<Asked>) => setTyped({ ...typed, ...patch });
  const lengths = plan.display.lengths;
  const start = () => {
    setAskedFor(shelf);
    job.start({
      shelf,
      lampKinds,
      kind,
      count,
      ownDimming,
      targetMeanUmol: meanUmol,
      heightMm,
      readings: plan.light.readings,
      limits: { ...heights, fromSidesMm: 30 },
      lengths,
    });
  };
  return (
    <>
      <FieldRow>
        <ShelfChoice plan={plan} shelf={shelf} />
        <Select
          label="Lamps"
          value={kind.id}
          options={lampKinds.map((k) => ({ value: k.id, label: k.name }))}
          onCommit={setKind}
        />
      </FieldRow>
      <FieldList of={asked} fields={LIGHT} system={lengths} onChange={onChange} />
      <FieldList of={asked} fields={PLACES} system={lengths} onChange={onChange} />
      <Checkbox
        label="Each row has a dimmer of its own"
        checked={ownDimming}
        testId="arrange-own-dimming"
        onCommit={setOwnDimming}
      />
      <p className="field-remark">
        The plants reach {formatLength(grownMm, lengths)} at harvest, so lamps hang at{' '}
        {formatLength(grownMm + asked.aboveCanopyMm, lengths)} or higher.
      </p>
      <JobButton
        job={job}
        label="Propose an arrangement"
        progressOf="Arranging"
        testId="arrange"
        onStart={start}
      />
      {job.result && askedFor === shelf ? (
        <Proposal plan={plan} shelf={shelf} answer={job.result} onDone={job.cancel} />
      ) : null}
    </>
  );
}

function Proposal(props: { plan: Plan; shelf: Shelf; answer: ArrangeAnswer; onDone: () => void }) {
  const { plan, shelf, answer, onDone } = props;
  const dispatch = useDispatch();
  const lengths = plan.display.lengths;
  const withLamps = (arrangement: Arrangement): Shelf => ({
    ...shelf,
    lamps: arrangement.lamps.map((lamp, i) => ({ ...lamp, id: `l${i + 1}` })),
  });
  const rows = [
    ...(answer.before ? [{ name: 'As they hang', at: answer.before }] : []),
    { name: 'Equally spaced', at: answer.equallySpaced },
    { name: 'Proposed', at: answer.after },
  ];
  const maps = rows
    .filter((row) => row.name !== 'Equally spaced')
    .map((row) => ({
      ...row,
      field: mapOf(withLamps(row.at), plan.rack.lampKinds, plan.light.canopyAt, row.at.scales),
    }));
  const range = rangeOf(maps.map((map) => map.field));
  return (
    <>
      <Table
        caption={answer.over === 'pots' ? 'Over the pots' : 'Over the canopy'}
        showCaption
        testId="arrange-figures"
        rows={rows}
        rowKey={(row) => row.name}
        columns={[
          { key: 'name', head: 'Lamps', cell: (row) => row.name },
          { key: 'mean', head: 'PPFD', numeric: true, cell: (r) => fixed(r.at.evenness.mean, 0) },
          {
            key: 'range',
            head: 'min–max',
            numeric: true,
            cell: (r) => `${fixed(r.at.evenness.min, 0)}–${fixed(r.at.evenness.max, 0)}`,
          },
          {
            key: 'even',
            head: 'min : mean',
            numeric: true,
            cell: (r) =>
              r.at.evenness.minToMean === null ? '–' : fixed(r.at.evenness.minToMean, 2),
          },
          {
            key: 'dim',
            head: 'dimmed to',
            numeric: true,
            cell: (r) => dimmings(r.at),
          },
        ]}
      />
      <div className="light-maps">
        {maps.map((map) => (
          <ShelfMap key={map.name} title={map.name} shelf={shelf} field={map.field} {...range} />
        ))}
      </div>
      <p className="field-remark" data-testid="arrange-words">
        Proposed: {inWords(answer.after, lengths)}{' '}
        {answer.after.meetsTarget ? '' : 'The mean wanted cannot be reached within these limits.'}{' '}
        {restsOn(answer)}
      </p>
      <div className="section-actions">
        <Button
          tone="primary"
          data-testid="arrange-accept"
          onClick={() => {
            const done = dispatch(arrangeLamps, { shelfId: shelf.id, lamps: answer.after.lamps });
            if (done.ok) onDone();
          }}
        >
          Hang them so
        </Button>
        <Button onClick={onDone}>Leave them as they are</Button>
      </div>
    </>
  );
}

/** What the figures are estimated from. */
function restsOn({ before, after }: ArrangeAnswer): string {
  if (after.scales.length > 0) {
    return 'All estimated from the lamps’ figures with the scale of the readings.';
  }
  return before && before.scales.length > 0
    ? 'Estimated from the lamps’ figures; with the scale of the readings as they hang, without proposed.'
    : 'Estimated from the lamps’ figures, without readings.';
}

/** `60 %`, or `45–60 %` where lamps are dimmed apart. */
function dimmings({ lamps }: Arrangement): string {
  const all = lamps.map((lamp) => lamp.dimming);
  const [low, high] = [percent(Math.min(...all)), percent(Math.max(...all))];
  return low === high ? high : `${low.replace(/ %$/, '')}–${high}`;
}

/** A length as finely as a person hangs lamps: to the millimetre, or a tenth of an inch. */
function hung(mm: number, lengths: UnitSystem): string {
  const step = lengths === 'metric' ? 1 : 2.54;
  return formatLength(Math.round(mm / step) * step, lengths);
}

/** Height, rows and dimming as a person would hang them. */
function inWords(at: Arrangement, lengths: UnitSystem): string {
  const [first] = at.lamps;
  if (!first) return 'no lamp.';
  const alongX = first.rotationDeg % 180 === 0;
  const alike = new Set(at.lamps.map((lamp) => lamp.dimming)).size === 1;
  const rows = new Map(
    at.lamps.map((lamp) => [Math.round(alongX ? lamp.yMm : lamp.xMm), lamp.dimming]),
  );
  const places = [...rows].map(
    ([mm, dimming]) => `${hung(mm, lengths)}${alike ? '' : ` (${percent(dimming)})`}`,
  );
  return (
    `${plural(at.lamps.length, 'lamp')} ${hung(first.zMm, lengths)} above the shelf, ` +
    `lying ${alongX ? 'from left to right' : 'from front to back'}, ` +
    `${places.join(', ')} from the ${alongX ? 'front' : 'left'}` +
    (alike ? `, dimmed to ${percent(first.dimming)}.` : ', each row dimmed as said.')
  );
}
