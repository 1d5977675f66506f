import { useState } from 'react';
import type { Contrast, Factor } from '../../../../shared-types/trial';
import { trendContrasts } from '../../../engine/findings';
import { setContrasts } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { Button, FieldRow, Fold, NumberField, TextField, Problem } from '../../../ui';
import { list, roundedTo } from '../../../words';

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
  const levelName = (id: string) => factor.levels.find((l) => l.id === id)?.name ?? id;
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
              <strong>{contrast.name}</strong>:{' '}
              {contrast.weights
                .filter(({ weight }) => weight !== 0)
                .map(({ levelId, weight }) => `${roundedTo(weight, 4)} × ${levelName(levelId)}`)
                .join(', ')}{' '}
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
        <>
          <FieldRow>
            <TextField
              label="Name"
              value={draft.name}
              onCommit={(name) => setDraft({ ...draft, name })}
            />
            {factor.levels.map((level) => (
              <NumberField
                key={level.id}
                label={level.name}
                value={draft.weights.find((w) => w.levelId === level.id)?.weight ?? 0}
                onCommit={(weight) =>
                  setDraft({
                    ...draft,
                    weights: draft.weights.map((w) =>
                      w.levelId === level.id ? { ...w, weight } : w,
                    ),
                  })
                }
              />
            ))}
          </FieldRow>
          <div className="section-actions">
            <Button
              tone="primary"
              onClick={() => {
                if (keep([...planned, draft])) setDraft(null);
              }}
            >
              Keep it
            </Button>
            <Button onClick={() => setDraft(null)}>Cancel</Button>
          </div>
        </>
      ) : (
        <div className="section-actions">
          <Button
            onClick={() =>
              setDraft({
                name: 'comparison',
                weights: factor.levels.map((level, i) => ({
                  levelId: level.id,
                  weight: i === 0 ? 1 : i === 1 ? -1 : 0,
                })),
              })
            }
          >
            State a comparison…
          </Button>
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
