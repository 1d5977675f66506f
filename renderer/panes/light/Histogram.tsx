import * as Plot from '@observablehq/plot';
import { useMemo } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { potLightOf, potsOf, type LightCounted } from '../../derive';
import { useSession } from '../../store/context';
import { PlotFigure } from '../../ui';
import { fixed } from '../../words';

/** How many pots get how much: of the selected trays or shelves, or of the whole rack. */
export function Histogram(props: { plan: Plan; counted: LightCounted; withoutGuards: boolean }) {
  const { plan, counted, withoutGuards } = props;
  const selection = useSession((s) => s.selection);
  const values = useMemo(() => {
    const light = potLightOf(plan, counted);
    const chosen = new Set(selection.filter((ref) => /^(tray|shelf):/.test(ref)));
    return potsOf(plan).flatMap((pot) => {
      const value = light.pots.get(pot.id)?.ppfdUmol;
      const inside =
        chosen.size === 0 || chosen.has(`tray:${pot.trayId}`) || chosen.has(`shelf:${pot.shelfId}`);
      return value === undefined || !inside || (withoutGuards && pot.guard) ? [] : [value];
    });
  }, [plan, counted, selection, withoutGuards]);
  const target = plan.light.targetPpfdUmol;
  const options = useMemo((): Plot.PlotOptions => {
    const mean = values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
    return {
      height: 136,
      marginTop: 26,
      marginBottom: 32,
      marginLeft: 34,
      x: { label: 'PPFD, µmol m⁻² s⁻¹', labelArrow: 'none', nice: true },
      y: { label: 'pots', labelArrow: 'none', ticks: 3, grid: true },
      marks: [
        ...(target
          ? [
              Plot.ruleX([target.lowest, target.highest], {
                stroke: 'currentColor',
                strokeDasharray: '2 3',
              }),
            ]
          : []),
        Plot.rectY(
          values.map((ppfd) => ({ ppfd })),
          {
            ...Plot.binX({ y: 'count' }, { x: 'ppfd', thresholds: 14 }),
            fill: 'var(--accent)',
          },
        ),
        Plot.ruleX([mean], { stroke: 'currentColor', strokeWidth: 1.5 }),
        Plot.text([mean], {
          x: (value: number) => value,
          text: (value: number) => `mean ${fixed(value, 0)}`,
          frameAnchor: 'top',
          dy: -16,
        }),
        Plot.ruleY([0]),
      ],
    };
  }, [values, target]);
  if (values.length < 2) return null;
  return (
    <PlotFigure
      testId="light-histogram"
      label={`How many of ${values.length} pots get which PPFD; dashed lines are the target`}
      options={options}
    />
  );
}
