import type { Plan } from '../../../shared-types/plan';
import { blindedSince } from '../../document/queries';
import { carrierOf, hasSettings, type TreatedView } from '../../engine/treated';
import { usePlanStore, useTreatedView } from '../../store';

/** The rack as drawn, as treated, or with every unit at one level; where any level sets something. */
export function TreatedSwitch() {
  const plan = usePlanStore((s) => s.plan);
  const [view, choose] = useTreatedView();
  if (!plan || !hasSettings(plan.trial)) return null;
  const options = optionsOf(plan);
  return (
    <select
      className="input rack-treated-choice"
      aria-label="Rack shown"
      data-testid="treated-switch"
      value={keyOf(view)}
      onChange={(event) => {
        const chosen = options.find(({ key }) => key === event.target.value);
        if (chosen) choose(chosen.view);
      }}
    >
      {options.map(({ key, label }) => (
        <option key={key} value={key}>
          {label}
        </option>
      ))}
    </select>
  );
}

const keyOf = (view: TreatedView): string =>
  view.as === 'level' ? `${view.factorId} ${view.levelId}` : view.as;

const ALL = { bay: 'All bays', zone: 'All reservoirs', pot: 'All pots' } as const;

function optionsOf(plan: Plan): { key: string; label: string; view: TreatedView }[] {
  const { trial, layout } = plan;
  const factors = trial?.factors ?? [];
  const isOpen = blindedSince(plan) === null;
  const views: { label: string; view: TreatedView }[] = [
    { label: 'As drawn', view: { as: 'bare' } },
    ...(isOpen && (layout || factors.some(({ kind }) => kind === 'fixed'))
      ? [{ label: 'As treated', view: { as: 'treated' } as const }]
      : []),
    ...factors.flatMap(({ id: factorId, name, appliedThrough, levels }) => {
      const carrier = appliedThrough === undefined ? null : carrierOf[appliedThrough];
      if (!carrier) return [];
      return levels
        .filter(({ settings }) => settings)
        .map((level) => ({
          label: `${ALL[carrier]}: ${name} ${level.name}`,
          view: { as: 'level', factorId, levelId: level.id } as const,
        }));
    }),
  ];
  return views.map((one) => ({ ...one, key: keyOf(one.view) }));
}
