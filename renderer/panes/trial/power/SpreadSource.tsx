import { useState } from 'react';
import {
  findingsInputOf,
  pilotSpread,
  PRIMARY,
  spreadOf,
  spreadTaken,
  type PilotSpread,
  type UnitSpread,
} from '../../../derive';
import type { FindingsOutcome } from '../../../engine/findings';
import { readPlan, sayProblem } from '../../../document/open';
import { useHostOffer } from '../../../store/hostContext';
import { useJob } from '../../../store/jobsContext';
import { Button, Fold, Problem, TextArea } from '../../../ui';
import { unitSpreadWords } from './unitSpreadWords';
import { figures, plural, reasonOf } from '../../../words';

export interface Spread {
  plantSd: number;
  /** Absent: the source tells nothing of it. */
  unitSd?: number;
}

interface Props {
  unit: string;
  onSpread: (spread: Spread) => void;
}

/** Where the expected spread comes from: an earlier plan's findings, or a pilot. */
export function SpreadSource({ unit, onSpread }: Props) {
  return (
    <>
      <FromPlan unit={unit} onSpread={onSpread} />
      <FromPilot unit={unit} onSpread={onSpread} />
    </>
  );
}

function FromPlan({ unit, onSpread }: Props) {
  const host = useHostOffer();
  const job = useJob('findings');
  const [title, setTitle] = useState('');
  const [problem, setProblem] = useState<string | null>(null);

  const choose = async () => {
    job.cancel();
    setProblem(null);
    try {
      const opened = await host.open('plan');
      if (!opened) return;
      const read = readPlan(opened.text);
      const data = read.ok ? findingsInputOf(read.plan) : null;
      if (!read.ok) setProblem(`${opened.ref.name}: ${sayProblem(read.problem)}`);
      else if (!data) setProblem(`${opened.ref.name}: it holds no trial.`);
      else {
        setTitle(read.plan.title);
        job.start({ data, choice: PRIMARY });
      }
    } catch (error) {
      setProblem(reasonOf(error));
    }
  };

  return (
    <>
      <div className="section-actions">
        <Button onClick={() => void choose()} disabled={job.running} data-testid="earlier-spread">
          {job.running ? 'Reading its findings…' : 'Take it from another plan…'}
        </Button>
      </div>
      <Problem text={problem ?? job.problem} />
      {job.result ? (
        <Found title={title} outcome={job.result} unit={unit} onSpread={onSpread} />
      ) : null}
    </>
  );
}

function Found({
  title,
  outcome,
  unit,
  onSpread,
}: Props & { title: string; outcome: FindingsOutcome }) {
  const found = spreadOf(outcome);
  if ('missing' in found) return <p className="field-problem">{`${title}: ${found.missing}`}</p>;
  const words = (name: string): string => name || 'no unit';
  if (found.unit !== unit) {
    return (
      <p className="field-problem">
        {title} has {found.response} as its main result, in {words(found.unit)}, this trial in{' '}
        {words(unit)}.
      </p>
    );
  }
  const df = found.df === null ? '' : ` (${Math.round(found.df)} df)`;
  const many = found.units ? `${found.units.name}s` : 'trays or shelves';
  const plants = `${title}, ${found.response}: equal plants typically differ by ${figures(found.plantSd)} ${unit}${df}.`;
  return (
    <Take
      says={`${plants} ${unitSpreadWords(found.units, many, unit)}`}
      plantSd={found.plantSd}
      units={found.units}
      onSpread={onSpread}
    />
  );
}

/** A spread between units, and how large it may be. */
type UnitSd = Pick<UnitSpread, 'sd' | 'upper'>;

function Take(props: {
  says: string;
  plantSd: number;
  units: UnitSd | null;
  onSpread: Props['onSpread'];
}) {
  return (
    <div className="trial-way">
      <p role="status">{props.says}</p>
      <div className="section-actions">
        <Button data-testid="use-spread" onClick={() => props.onSpread(spreadTaken(props))}>
          Use these figures
        </Button>
      </div>
    </div>
  );
}

function FromPilot({ unit, onSpread }: Props) {
  const host = useHostOffer();
  const [text, setText] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const found = text.trim() === '' ? null : pilotSpread(text);

  const choose = async () => {
    setProblem(null);
    try {
      const opened = await host.open('table');
      if (opened) setText(opened.text);
    } catch (error) {
      setProblem(reasonOf(error));
    }
  };

  return (
    <Fold title="Take it from a pilot">
      <TextArea
        label="Values of plants treated alike, one line a tray or shelf"
        remark="Parted by spaces. Or a table with a header: tray or shelf in its first column, values in its last."
        rows={3}
        value={text}
        testId="pilot"
        onCommit={setText}
      />
      <div className="section-actions">
        <Button onClick={() => void choose()} data-testid="pilot-file">
          Open a table…
        </Button>
      </div>
      <Problem text={problem} />
      {found && 'missing' in found ? <p className="field-problem">{found.missing}</p> : null}
      {found && !('missing' in found) ? (
        <Take
          says={sayPilot(found, unit)}
          plantSd={found.plantSd}
          units={unitsOfPilot(found)}
          onSpread={onSpread}
        />
      ) : null}
    </Fold>
  );
}

function unitsOfPilot({ unitSd, unitSdUpper }: PilotSpread): UnitSd | null {
  return unitSdUpper === null ? null : { sd: unitSd, upper: unitSdUpper };
}

function sayPilot(found: PilotSpread, unit: string): string {
  const { plants, lines, plantSd, columns } = found;
  const one = columns?.unit ?? 'line';
  const value = columns ? `${columns.value}: ` : '';
  const where = columns?.unit ? `${lines} of ${columns.unit}` : plural(lines, 'line');
  const within = `SD ${`${figures(plantSd)} ${unit}`.trimEnd()} between plants within a ${one}`;
  const between = unitSpreadWords(unitsOfPilot(found), `${one}s`, unit);
  return `${value}${plants} plants in ${where}: ${within}. ${between}`;
}
