import { useState } from 'react';
import type { Layout } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import { drawnWith, drawRuns, verifyOf } from '../../derive';
import { keepLayout } from '../../document/commands';
import { standingRecords } from '../../document/queries';
import { useDispatch } from '../../store/context';
import { Button, Facts, Section, TextField, Problem } from '../../ui';
import { newSeed } from '../shared/newSeed';
import { RecordsStand } from './RecordsStand';
import { plural, sayInstant } from '../../words';

/** Draws the layout from its seed, and draws it again to check it. */
export function DrawSection({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const { layout } = plan;
  const [seed, setSeed] = useState(layout?.seed ?? plan.title);
  const [problem, setProblem] = useState<string | null>(null);
  const [verdict, setVerdict] = useState<string | null>(null);
  const planted = layout !== null && layout.plantedAt !== null;
  const recorded = standingRecords(plan) !== null;
  const locked = planted || recorded;
  const together = locked ? null : drawnWith(plan);

  const draw = (from: string) => {
    const drawn = drawRuns(plan, from, new Date().toISOString());
    setProblem(drawn.ok ? null : drawn.reason);
    setVerdict(drawn.ok && layout ? sayChange(layout, drawn.value.layout) : null);
    if (drawn.ok) dispatch(keepLayout, drawn.value);
  };
  const drawAnew = () => {
    const next = newSeed();
    setSeed(next);
    draw(next);
  };
  const verify = () => {
    setProblem(null);
    setVerdict(sayVerdict(plan));
  };

  return (
    <Section title="The draw">
      <TextField
        label="Seed, any text"
        value={seed}
        longest={200}
        disabled={locked}
        testId="seed"
        remark={
          planted && !recorded
            ? 'The layout is planted; it is drawn anew only after it has been unlocked.'
            : layout
              ? undefined
              : 'The same seed and plan give the same layout on every machine.'
        }
        onCommit={setSeed}
      />
      {together ? <p data-testid="drawn-with">{together}</p> : null}
      <div className="section-actions">
        <Button tone="primary" onClick={() => draw(seed)} disabled={locked} data-testid="draw">
          {layout ? 'Draw again' : 'Draw the layout'}
        </Button>
        <Button
          onClick={drawAnew}
          disabled={locked}
          title="Draw from a seed that nobody chose"
          data-testid="draw-new-seed"
        >
          Draw with a new seed
        </Button>
        <Button onClick={verify} disabled={!layout} data-testid="verify">
          Verify
        </Button>
      </div>
      <RecordsStand plan={plan} />
      <Problem text={problem} />
      {verdict ? (
        <p role="status" data-testid="draw-verdict">
          {verdict}
        </p>
      ) : null}
      {layout ? (
        <Facts rows={factsOf(layout)} />
      ) : (
        <p className="field-remark">
          Nothing is drawn yet. Drawing gives every pot its treatment at random, within the blocks
          of the trial.
        </p>
      )}
    </Section>
  );
}

function sayChange(before: Layout, now: Layout): string {
  const levelsOf = (layout: Layout) =>
    new Map(layout.assignments.map((a) => [a.potId, JSON.stringify([a.levels, a.plant])]));
  const was = levelsOf(before);
  const changed = [...levelsOf(now)].filter(([potId, levels]) => was.get(potId) !== levels).length;
  if (changed > 0) return `Drawn anew: ${plural(changed, 'pot')} changed.`;
  return 'Drawn again from the same seed: every pot is as it was.';
}

function sayVerdict(plan: Plan): string | null {
  const result = verifyOf(plan);
  if (!result) return null;
  if (!result.redrawn) {
    return 'The plan has changed since the draw, so it cannot be drawn again and compared.';
  }
  const [first] = result.differing;
  if (first === undefined) return 'Drawn again from its seed: identical, pot by pot.';
  const differ = plural(result.differing.length, 'pot');
  return `Drawn again from its seed: ${differ} differ. ${result.said[0] ?? ''}`;
}

function factsOf(layout: Layout): (readonly [string, string])[] {
  const blocks = new Set(layout.assignments.map((a) => a.block)).size;
  return [
    ['Drawn from the seed', layout.seed],
    ['Drawn at (UTC)', sayInstant(layout.drawnAt)],
    ['Scheme', layout.scheme.replaceAll('-', ' ')],
    ['Pots', `${layout.assignments.length} in ${plural(blocks, 'block')}`],
    ['Candidates drawn', String(layout.candidates)],
  ];
}
