import { useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import type { Shelf } from '../../../../shared-types/rack';
import { attainableMeanOf } from '../../../derive';
import { bayAt, baysOf, isParted, tallestCanopyMm } from '../../../engine/geometry';
import { shelfInRoom } from '../../../engine/light';
import { useJob } from '../../../store/jobsContext';
import {
  Checkbox,
  FieldList,
  FieldRow,
  JobButton,
  Problem,
  Select,
  type FieldOf,
} from '../../../ui';
import { formatLength } from '../../../words';
import { ShelfChoice } from '../shelfInQuestion';
import { Proposal } from './Proposal';

// What is usual between plants and lamps, and what a lamp's body needs under the shelf above.
const CLEAR_MM = 100;
const HEADROOM_MM = 10;

/** What is asked of the search, beside the lamp. */
interface Asked {
  count: number;
  meanUmol: number | null;
  aboveCanopyMm: number;
  highestMm: number;
  apartMm: number;
}

const LIGHT: readonly FieldOf<Asked>[] = [
  {
    as: 'number',
    key: 'count',
    label: 'How many',
    testId: 'arrange-count',
    whole: true,
    lowest: 1,
    highest: 60,
  },
  {
    as: 'number',
    key: 'meanUmol',
    label: 'Mean PPFD wanted',
    testId: 'arrange-mean',
    unit: 'µmol m⁻² s⁻¹',
    lowest: 1,
    highest: 5000,
    step: 10,
  },
];
const PLACES: readonly FieldOf<Asked>[] = [
  {
    as: 'length',
    key: 'aboveCanopyMm',
    label: 'Over the plants',
    lowestMm: 1,
    testId: 'arrange-clear',
  },
  {
    as: 'length',
    key: 'highestMm',
    label: 'Not higher than',
    lowestMm: 1,
    testId: 'arrange-highest',
  },
  { as: 'length', key: 'apartMm', label: 'Rows apart', lowestMm: 0 },
];

/** Finds places, height and dimming for lamps over a shelf or one of its bays. */
export function ArrangePanel({ plan, shelf }: { plan: Plan; shelf: Shelf }) {
  const job = useJob('arrange');
  const [typed, setTyped] = useState<Partial<Asked>>({});
  const [chosenKind, setKind] = useState<string | null>(null);
  const [chosenBay, setBay] = useState<string | null>(null);
  const [ownDimming, setOwnDimming] = useState(false);
  const [askedFor, setAskedFor] = useState<{ shelf: Shelf; bayId: string } | null>(null);
  const bays = baysOf(shelf);
  const bay = bays.find(({ id }) => id === chosenBay) ?? bays[0];
  const hung = shelf.lamps.filter(({ xMm, yMm }) => bayAt(bays, xMm, yMm) === bay);
  const { lampKinds } = plan.rack;
  const kindId = chosenKind ?? hung[0]?.kindId ?? lampKinds[0]?.id;
  const kind = lampKinds.find((k) => k.id === kindId);
  if (!kind) return <p className="field-remark">Add a lamp in the Rack stage first.</p>;
  const lengths = plan.display.lengths;
  const grownMm = tallestCanopyMm(shelf, bay.rect);
  const highestMm = typed.highestMm ?? shelf.clearanceMm - HEADROOM_MM;
  const start = {
    count: Math.max(1, hung.length),
    highestMm,
    aboveCanopyMm: Math.max(1, Math.min(CLEAR_MM, highestMm - grownMm)),
    apartMm: 60,
    ...typed,
  };
  const { count, aboveCanopyMm, apartMm } = start;
  const request = {
    shelf: shelfInRoom(shelf, plan.rack),
    lampKinds,
    kind,
    count,
    canopyAt: plan.light.canopyAt,
    lengths,
    ...(isParted(shelf) ? { bayId: bay.id } : {}),
    readings: plan.light.readings,
    limits: { aboveCanopyMm, highestMm, apartMm, fromSidesMm: 30 },
  };
  const target = plan.light.targetPpfdUmol;
  const stated = typed.meanUmol ?? (target ? (target.lowest + target.highest) / 2 : null);
  const attainable = stated === null ? attainableMeanOf(request) : null;
  const meanUmol = stated ?? (attainable?.ok ? Math.max(1, Math.floor(attainable.value)) : null);
  const asked: Asked = { ...start, meanUmol };
  const onChange = (patch: Partial<Asked>) => setTyped({ ...typed, ...patch });
  return (
    <>
      <FieldRow>
        <ShelfChoice plan={plan} shelf={shelf} />
        {isParted(shelf) ? (
          <Select
            label="Bay"
            value={bay.id}
            testId="arrange-bay"
            options={bays.map(({ id, name }) => ({ value: id, label: `Bay ${name}` }))}
            onCommit={setBay}
          />
        ) : null}
      </FieldRow>
      <Select
        label="Lamps"
        value={kind.id}
        options={lampKinds.map((k) => ({ value: k.id, label: k.name }))}
        onCommit={setKind}
      />
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
        {formatLength(grownMm + aboveCanopyMm, lengths)} or higher.{' '}
        {attainable?.ok ? 'The mean is what these lamps give there at full output.' : ''}
      </p>
      <Problem text={attainable?.ok === false ? attainable.reason : null} />
      {meanUmol === null ? null : (
        <JobButton
          job={job}
          label="Propose an arrangement"
          progressOf="Arranging"
          testId="arrange"
          onStart={() => {
            setAskedFor({ shelf, bayId: bay.id });
            job.start({ ...request, ownDimming, targetMeanUmol: meanUmol });
          }}
        />
      )}
      {job.result && askedFor?.shelf === shelf && askedFor.bayId === bay.id ? (
        <Proposal
          plan={plan}
          shelf={shelf}
          bayId={request.bayId}
          answer={job.result}
          onDone={job.cancel}
        />
      ) : null}
    </>
  );
}
