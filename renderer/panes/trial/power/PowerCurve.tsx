import * as Plot from '@observablehq/plot';
import { useMemo, useState } from 'react';
import type { TermPower } from '../../../engine/trial';
import { PlotFigure, Select } from '../../../ui';
import { unitWords } from '../../../../shared-types/trial/trial';
import { fieldNumber } from '../../../words';

/** Power against the number of units, with what the rack holds marked. */
export function PowerCurve({ powers, wanted }: { powers: readonly TermPower[]; wanted: number }) {
  const [chosen, setChosen] = useState<string | null>(null);
  const term = powers.find((one) => keyOf(one) === chosen) ?? powers[0];
  const options = useMemo(() => (term ? optionsFor(term, wanted) : null), [term, wanted]);
  if (!term || !options) return null;
  const { many } = unitWords[term.unit];
  return (
    <>
      {powers.length > 1 ? (
        <Select
          label="Power against size, for"
          value={keyOf(term)}
          options={powers.map((one) => ({ value: keyOf(one), label: one.name }))}
          onCommit={setChosen}
        />
      ) : null}
      <PlotFigure
        testId="power-curve"
        label={`Power for ${term.name} against ${many} a level, up to twice what the rack holds; ${term.unitsPerLevel} ${many} a level fit the rack, power ${fieldNumber(wanted)} is wanted`}
        options={options}
      />
    </>
  );
}

const keyOf = (term: TermPower): string => term.factorIds.join('+');

function optionsFor(term: TermPower, wanted: number): Plot.PlotOptions {
  const points = term.curve.flatMap(({ unitsPerLevel, power }) =>
    power === null ? [] : [{ units: unitsPerLevel, power }],
  );
  const held = term.unitsPerLevel;
  const last = term.curve.at(-1)?.unitsPerLevel ?? held;
  const { many } = unitWords[term.unit];
  const here = term.power === null ? [] : [{ units: held, power: term.power }];
  const each = term.factorIds.length > 1 ? 'a combination' : 'a level';
  return {
    height: 200,
    marginLeft: 40,
    marginTop: 24,
    marginBottom: 38,
    x: { label: `${many} ${each}`, domain: [0, last], ticks: 6 },
    y: { label: 'power', domain: [0, 1], ticks: 5, grid: true },
    marks: [
      Plot.rect([{ from: held, to: last }], {
        x1: 'from',
        x2: 'to',
        y1: 0,
        y2: 1,
        fill: 'currentColor',
        fillOpacity: 0.07,
      }),
      Plot.ruleX([held], { strokeWidth: 1.5 }),
      Plot.text([{ units: held, text: `rack holds ${held}` }], {
        x: 'units',
        y: 1,
        text: 'text',
        dy: -10,
        textAnchor: held > last / 2 ? 'end' : 'start',
      }),
      Plot.ruleY([wanted], { strokeDasharray: '4 3' }),
      Plot.line(points, { x: 'units', y: 'power', strokeWidth: 2 }),
      Plot.dot(here, { x: 'units', y: 'power', r: 5, fill: 'var(--accent)', stroke: 'none' }),
    ],
  };
}
