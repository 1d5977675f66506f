import { useState } from 'react';
import type { Trial } from '../../../../shared-types/trial';
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

/** Harvests made up unless another number is asked for. */
const RUNS = 1000;
const AS_PLANNED = 'the trial as it is planned';

/** The whole trial on paper, many times over, before a seed is sown. */
export function RehearsalSection({ trial }: { trial: Trial }) {
  const plan = usePlanStore((s) => s.plan);
  const job = useJob('rehearsal');
  const { expected } = trial;
  const [runs, setRuns] = useState(RUNS);
  const [perUmol, setPerUmol] = useState<number | null>(null);
  const [edgeEffect, setEdgeEffect] = useState(0);
  const [deadShare, setDeadShare] = useState(0.03);
  const [correlation, setCorrelation] = useState(0.5);
  const [chosen, setChosen] = useState(AS_PLANNED);
  const rehearsed = useRehearsed(plan, job.result);
  if (!plan || trial.factors.length === 0) return null;
  if (!expected) {
    return (
      <Section title="Rehearsal" testId="rehearsal">
        <p className="field-remark">
          Grows the whole trial on paper once the spread between plants is stated above.
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
  const response = perUmol ?? roundedTo(expected.plantSd / 100, 2);
  const start = () => {
    const input = rehearsalInputOf(rehearsedPlan);
    if (!input) return;
    rehearsed.begin(way?.title ?? AS_PLANNED);
    job.start({
      ...input,
      model: {
        perUmol: response,
        edgeEffect,
        plantSd: expected.plantSd,
        traySd: spreadBetween('tray', expected).sd,
        shelfSd: spreadBetween('shelf', expected).sd,
        deadShare,
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
        Made-up harvests on this rack, in its light, with the spread expected above, each laid out
        anew and analysed as planned: once with no true effect, once with the difference that
        matters.{assumedSentence(expected, unit)}
      </p>
      <WhatIsRehearsed ways={ways} chosen={way?.title ?? AS_PLANNED} onChoose={setChosen} />
      <FieldRow>
        <NumberField
          label="More per µmol m⁻² s⁻¹"
          unit={unit}
          value={response}
          step={0.01}
          onCommit={setPerUmol}
        />
        <NumberField
          label="More at the edge"
          unit={unit}
          value={edgeEffect}
          step={0.1}
          onCommit={setEdgeEffect}
        />
        <NumberField
          label="Share that dies"
          value={deadShare}
          lowest={0}
          highest={0.9}
          step={0.01}
          onCommit={setDeadShare}
        />
        {withStart ? (
          <NumberField
            label="Start correlation"
            value={correlation}
            lowest={-0.99}
            highest={0.99}
            step={0.1}
            testId="start-correlation"
            onCommit={setCorrelation}
          />
        ) : null}
        <NumberField
          label="Harvests"
          value={runs}
          whole
          lowest={10}
          highest={20_000}
          step={100}
          testId="rehearsal-runs"
          onCommit={setRuns}
        />
      </FieldRow>
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
            head: 'No effect: false alarms',
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
