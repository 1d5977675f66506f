import { useState } from 'react';
import type { Contrast, Factor } from '../../../../shared-types/trial/trial';
import { trendContrasts } from '../../../engine/findings';
import { setContrasts } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { Button, FieldRow, Fold, NumberField, TextField, Problem } from '../../../ui';
import { figure, list } from '../../../words';

/** Comparisons that the person states: a name, and a weight for each level that takes part. */
export function ContrastEditor({ factor }: { factor: Factor }) {
  const dispatch = useDispatch();
  const [draft, setDraft] = useState<Contrast | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const planned = factor.contrasts ?? [];
  const keep = (contrasts: readonly Contrast[]) => {
    const done = dispatch(setContrasts, { factorId: factor.id, contrasts });
    setProblem(done.ok ? null : done.reason);
    return done.ok;
  };
  const known = new Set(planned.map((c) => c.name));
  const trends = trendContrasts(factor).filter((trend) => !known.has(trend.name));
  return (
    <Fold
      title={`Planned comparisons (${planned.length})`}
      className="findings-contrasts"
      open={draft !== null}
    >
      {planned.length > 0 ? (
        <ul>
          {planned.map((contrast) => (
            <li key={contrast.name}>
              <strong>{contrast.name}</strong>: {weightsSaid(contrast, factor)}{' '}
              <Button
                tone="quiet"
                aria-label={`Remove the comparison ${contrast.name}`}
                onClick={() => keep(planned.filter((c) => c !== contrast))}
              >
                Remove
              </Button>
            </li>
          ))}
        </ul>
      ) : null}
      {draft ? (
        <ContrastFields
          factor={factor}
          draft={draft}
          onChange={setDraft}
          onKeep={() => {
            if (keep([...planned, draft])) setDraft(null);
          }}
          onCancel={() => setDraft(null)}
        />
      ) : (
        <div className="section-actions">
          <Button onClick={() => setDraft(firstAgainstSecond(factor))}>State a comparison…</Button>
          {trends.length > 0 ? (
            <Button onClick={() => keep([...planned, ...trends])}>
              Add {list(trends.map((t) => t.name))} over the levels
            </Button>
          ) : null}
        </div>
      )}
      <Problem text={problem} />
    </Fold>
  );
}

function ContrastFields(props: {
  factor: Factor;
  draft: Contrast;
  onChange: (draft: Contrast) => void;
  onKeep: () => void;
  onCancel: () => void;
}) {
  const { factor, draft, onChange } = props;
  const weigh = (levelId: string, weight: number) => {
    const weights = draft.weights.map((w) => (w.levelId === levelId ? { ...w, weight } : w));
    onChange({ ...draft, weights });
  };
  return (
    <>
      <FieldRow>
        <TextField
          label="Name"
          value={draft.name}
          onCommit={(name) => onChange({ ...draft, name })}
        />
        {factor.levels.map((level) => (
          <NumberField
            key={level.id}
            label={level.name}
            value={draft.weights.find((w) => w.levelId === level.id)?.weight ?? 0}
            onCommit={(weight) => weigh(level.id, weight)}
          />
        ))}
      </FieldRow>
      <div className="section-actions">
        <Button tone="primary" onClick={props.onKeep}>
          Keep it
        </Button>
        <Button onClick={props.onCancel}>Cancel</Button>
      </div>
    </>
  );
}

const firstAgainstSecond = ({ levels }: Factor): Contrast => ({
  name: 'comparison',
  weights: levels.map((level, i) => ({
    levelId: level.id,
    weight: i === 0 ? 1 : i === 1 ? -1 : 0,
  })),
});

function weightsSaid({ weights }: Contrast, { levels }: Factor): string {
  const levelName = (id: string) => levels.find((l) => l.id === id)?.name ?? id;
  return weights
    .filter(({ weight }) => weight !== 0)
    .map(({ levelId, weight }) => `${figure(weight, 4)} × ${levelName(levelId)}`)
    .join(', ');
}
