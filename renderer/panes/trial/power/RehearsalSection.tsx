import { useState } from 'react';
import type { Trial } from '../../../../shared-types/trial/trial';
import { rehearsalInputOf, usesStart, waysOutOf, type WayOut } from '../../../derive';
import {
  differencesBetweenEnds,
  type RehearsalReport,
  type TermRehearsal,
} from '../../../engine/trial';
import { usePlanStore } from '../../../store/context';
import { useJob } from '../../../store/jobsContext';
import { FieldRow, JobButton, NumberField, Section, Select, Table } from '../../../ui';
import { RehearsalsBeside, rateSaid, useRehearsed } from './RehearsalsBeside';
import { assumedWords, spreadBetween } from '../../../engine/trial';
import { capital, list, roundedTo } from '../../../words';

/** What a made-up harvest is grown by, and how many are. */
interface Assumed {
  perUmol: number;
  edgeEffect: number;
  deadShare: number;
  /** Of a plant's value at the start with that at harvest. */
  correlation: number;
  runs: number;
}

const USUAL = { edgeEffect: 0, deadShare: 0.03, correlation: 0.5, runs: 1000 };

const AS_PLANNED = 'the trial as it is planned';

/** The whole trial on paper, many times over, before a seed is sown. */
export function RehearsalSection({ trial }: { trial: Trial }) {
  const plan = usePlanStore((s) => s.plan);
  const job = useJob('rehearsal');
  const { expected } = trial;
  const [typed, setTyped] = useState<Partial<Assumed>>({});
  const [chosen, setChosen] = useState(AS_PLANNED);
  const rehearsed = useRehearsed(plan, job.result);
  if (!plan || trial.factors.length === 0) return null;
  if (!expected) {
    return (
      <Section title="Rehearsal" testId="rehearsal">
        <p className="field-remark">
          Grows the whole trial on paper once it is said above how much equal plants differ.
        </p>
      </Section>
    );
  }
  const unit = trial.measurements.find((m) => m.id === trial.primaryOutcomeId)?.unit ?? '';
  const ways = waysOutOf(plan).filter(({ after }) => after !== plan);
  const way = ways.find(({ title }) => title === chosen);
  const rehearsedPlan = way?.after ?? plan;
  const withStart = usesStart(trial);
  // Unless said otherwise a hundred µmol more are worth as much as plants differ by themselves.
  const perUmol = roundedTo(expected.plantSd / 100, 2);
  const assumed: Assumed = { ...USUAL, perUmol, ...typed };
  const { runs, correlation, ...model } = assumed;
  const start = () => {
    const input = rehearsalInputOf(rehearsedPlan);
    if (!input) return;
    rehearsed.begin(way?.title ?? AS_PLANNED);
    job.start({
      ...input,
      model: {
        ...model,
        plantSd: expected.plantSd,
        traySd: spreadBetween('tray', expected).sd,
        shelfSd: spreadBetween('shelf', expected).sd,
        startCorrelation: withStart ? correlation : 0,
      },
      effects: trueEffects(input.trial, expected.smallestDifference),
      runs,
      seed: plan.title,
    });
  };
  return (
    <Section title="Rehearsal" testId="rehearsal">
      <p className="field-remark">
        Made-up harvests on this rack, in its light, with plants that differ as stated above, each
        laid out anew and analysed as planned: once with no true effect, once with the difference
        that matters.{assumedSentence(expected, unit)}
      </p>
      <WhatIsRehearsed ways={ways} chosen={way?.title ?? AS_PLANNED} onChoose={setChosen} />
      <AssumedFields
        assumed={assumed}
        unit={unit}
        withStart={withStart}
        onChange={(patch) => setTyped({ ...typed, ...patch })}
      />
      <JobButton
        job={job}
        label="Rehearse"
        progressOf="Progress of the rehearsal"
        testId="rehearse"
        onStart={start}
      />
      {job.result ? <Report report={job.result} /> : null}
      <RehearsalsBeside rehearsals={rehearsed.all} />
    </Section>
  );
}

function AssumedFields(props: {
  assumed: Assumed;
  unit: string;
  withStart: boolean;
  onChange: (patch: Partial<Assumed>) => void;
}) {
  const { assumed, unit, onChange } = props;
  return (
    <FieldRow>
      <NumberField
        label="More per µmol m⁻² s⁻¹"
        unit={unit}
        value={assumed.perUmol}
        step={0.01}
        onCommit={(perUmol) => onChange({ perUmol })}
      />
      <NumberField
        label="More at the edge"
        unit={unit}
        value={assumed.edgeEffect}
        step={0.1}
        onCommit={(edgeEffect) => onChange({ edgeEffect })}
      />
      <NumberField
        label="Share that dies"
        value={assumed.deadShare}
        lowest={0}
        highest={0.9}
        step={0.01}
        onCommit={(deadShare) => onChange({ deadShare })}
      />
      {props.withStart ? (
        <NumberField
          label="Start correlation"
          value={assumed.correlation}
          lowest={-0.99}
          highest={0.99}
          step={0.1}
          testId="start-correlation"
          onCommit={(correlation) => onChange({ correlation })}
        />
      ) : null}
      <NumberField
        label="Harvests"
        value={assumed.runs}
        whole
        lowest={10}
        highest={20_000}
        step={100}
        testId="rehearsal-runs"
        onCommit={(runs) => onChange({ runs })}
      />
    </FieldRow>
  );
}

/** The trial as planned, or as one of its ways out would have it. */
function WhatIsRehearsed(props: {
  ways: readonly WayOut[];
  chosen: string;
  onChoose: (title: string) => void;
}) {
  if (props.ways.length === 0) return null;
  const titles = [AS_PLANNED, ...props.ways.map(({ title }) => title)];
  return (
    <Select
      label="Rehearse"
      value={props.chosen}
      options={titles.map((title) => ({ value: title, label: title }))}
      testId="rehearse-what"
      onCommit={props.onChoose}
    />
  );
}

/** What nobody said of the spread between units, and what stands in for it. */
function assumedSentence(expected: NonNullable<Trial['expected']>, unit: string): string {
  const said = (['tray', 'shelf'] as const)
    .map((kind) => assumedWords(kind, expected, unit))
    .filter((words) => words !== '');
  return said.length > 0 ? ` ${capital(list(said))}.` : '';
}

/** The smallest difference that matters, for every factor and every pair of factors. */
function trueEffects(trial: Trial, difference: number) {
  const pairs = trial.factors.flatMap((a, i) =>
    trial.factors.slice(i + 1).map((b) => ({ factorIds: [a.id, b.id], difference })),
  );
  return differencesBetweenEnds(trial.factors, () => difference, pairs);
}

function Report({ report }: { report: RehearsalReport }) {
  const terms: TermRehearsal[] = [...report.factors, ...report.interactions];
  return (
    <>
      <Table<TermRehearsal>
        caption={`Of ${report.runs} harvests, the share that said there is a difference (± Monte-Carlo error)`}
        showCaption
        testId="rehearsal-table"
        rows={terms}
        rowKey={(row) => row.factorIds.join('+')}
        columns={[
          { key: 'name', head: 'Term', cell: (row) => row.name },
          {
            key: 'alarm',
            head: 'No true effect: false alarms',
            numeric: true,
            cell: (row) => rateSaid(row.falseAlarm),
          },
          {
            key: 'power',
            head: 'With it: power',
            numeric: true,
            cell: (row) => rateSaid(row.power),
          },
          {
            key: 'naive',
            head: 'False alarms, were pots taken for units',
            numeric: true,
            cell: (row) => rateSaid(row.potsAsUnits?.falseAlarm ?? null),
          },
        ]}
      />
      {terms.map((term) => (
        <p key={term.factorIds.join('+')}>{term.says}</p>
      ))}
      {[report.analysis, ...report.notes].map((words) => (
        <p key={words} className="field-remark">
          {words}
        </p>
      ))}
    </>
  );
}
