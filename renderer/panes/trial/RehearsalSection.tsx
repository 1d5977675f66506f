import { useState } from 'react';
import type { Trial } from '../../../shared-types/trial';
import { trialInputOf, type FactorRehearsal, type Rate, type RehearsalReport } from '../../derive';
import { usePlanStore } from '../../store/context';
import { useJob } from '../../store/jobsContext';
import { Button, FieldRow, fixed, NumberField, Section, Table } from '../../ui';

const RUNS = 1000;

/** The whole trial on paper, a thousand times over, before a seed is sown. */
export function RehearsalSection({ trial }: { trial: Trial }) {
  const plan = usePlanStore((s) => s.plan);
  const job = useJob('rehearsal');
  const { expected } = trial;
  const [perUmol, setPerUmol] = useState<number | null>(null);
  const [edgeEffect, setEdgeEffect] = useState(0);
  const [deadShare, setDeadShare] = useState(0.03);
  if (!plan || !expected || trial.factors.length === 0) return null;
  const unit = trial.measurements.find((m) => m.id === trial.primaryMeasurementId)?.unit ?? '';
  const input = trialInputOf(plan);
  // Unless said otherwise a hundred µmol more are worth as much as plants differ by themselves.
  const response = perUmol ?? Number((expected.plantSd / 100).toPrecision(2));
  const start = () => {
    if (!input) return;
    job.start({
      ...input,
      model: {
        // A level common to all plants changes no test.
        mean: 0,
        perUmol: response,
        edgeEffect,
        plantSd: expected.plantSd,
        traySd: expected.unitSd,
        shelfSd: expected.unitSd,
        deadShare,
      },
      // The smallest difference that matters, between the first and the last level of each factor.
      effects: Object.fromEntries(
        trial.factors.map((factor) => [
          factor.id,
          Object.fromEntries(
            factor.levels.map((level, i) => [
              level.id,
              (expected.smallestDifference * i) / Math.max(1, factor.levels.length - 1),
            ]),
          ),
        ]),
      ),
      runs: RUNS,
      seed: plan.title,
    });
  };
  return (
    <Section title="Rehearsal" testId="rehearsal">
      <p className="field-remark">
        {RUNS} made-up harvests on this rack, in its light, with the spread expected above, each
        analysed as planned: once with no true effect, once with the difference that matters.
      </p>
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
      </FieldRow>
      <div className="section-actions">
        {job.running ? (
          <>
            <Button onClick={job.cancel}>Cancel</Button>
            <progress value={job.progress ?? 0} max={1} aria-label="Progress of the rehearsal" />
          </>
        ) : (
          <Button onClick={start} data-testid="rehearse">
            Rehearse
          </Button>
        )}
      </div>
      {job.problem ? (
        <p className="field-problem" role="alert">
          {job.problem}
        </p>
      ) : null}
      {job.result ? <Report report={job.result} alpha={trial.alpha} /> : null}
    </Section>
  );
}

function Report({ report, alpha }: { report: RehearsalReport; alpha: number }) {
  return (
    <>
      <Table<FactorRehearsal>
        caption={`Of ${report.runs} rehearsals, the share that said there is a difference (± Monte-Carlo error)`}
        showCaption
        testId="rehearsal-table"
        rows={report.factors}
        rowKey={(row) => row.factorId}
        columns={[
          { key: 'name', head: 'Factor', cell: (row) => row.name },
          {
            key: 'alarm',
            head: 'With no effect: false alarms',
            numeric: true,
            cell: (row) => said(row.falseAlarm),
          },
          {
            key: 'power',
            head: 'With the effect: power',
            numeric: true,
            cell: (row) => said(row.power),
          },
          {
            key: 'naive',
            head: 'False alarms, were pots taken for units',
            numeric: true,
            cell: (row) => said(row.potsAsUnits?.falseAlarm ?? null),
          },
        ]}
      />
      {report.factors.map((factor) => (
        <p key={factor.factorId}>{verdict(factor, alpha)}</p>
      ))}
      <p className="field-remark">{report.analysis}</p>
    </>
  );
}

function said(rate: Rate | null): string {
  return rate ? `${fixed(rate.share, 3)} ± ${fixed(rate.se, 3)}` : 'no test';
}

function verdict(factor: FactorRehearsal, alpha: number): string {
  const { falseAlarm, potsAsUnits } = factor;
  const naive = potsAsUnits?.falseAlarm.share;
  if (!falseAlarm) {
    return naive === undefined
      ? `${factor.name} cannot be tested in this trial.`
      : `${factor.name} cannot be tested in this trial. Taking each pot for a unit would cry a difference in ${fixed(naive * 100, 0)} of 100 trials where there is none.`;
  }
  const off = Math.abs(falseAlarm.share - alpha) > 3 * falseAlarm.se;
  const start = off
    ? `${factor.name}: the false alarms differ from the ${fixed(alpha, 2)} asked for.`
    : `${factor.name}: false alarms as asked for.`;
  return naive !== undefined && naive > 2 * alpha
    ? `${start} Taking each pot for a unit would give ${fixed(naive * 100, 0)} false alarms in 100.`
    : start;
}
