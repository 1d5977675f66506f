import * as Plot from '@observablehq/plot';
import { useMemo, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import {
  broughtFactors,
  placementOf,
  readPlantList,
  sizeClassesOf,
  sizeClassWords,
  sparePlantsOf,
  startMeasurementOf,
} from '../../derive';
import { placePlants, setPlants } from '../../document/commands';
import { measurementLabel } from '../../document/queries/names';
import { useDispatch } from '../../store/context';
import { Button, PlotFigure, Section, TextArea, Problem } from '../../ui';
import { plural } from '../../words';
import { PlantTable } from './PlantTable';
import { Substitute } from './Substitute';

/** Weigh first, then give plants to pots by size class; spares stand by for one that breaks. */
export function PlantsSection({ plan }: { plan: Plan }) {
  const plants = plan.plants ?? [];
  const measurement = startMeasurementOf(plan);
  const unit = measurement?.unit ?? '';
  // Once planted without a list there is nothing left to share out.
  if (plants.length === 0 && plan.layout?.plantedAt) return null;
  return (
    <Section title="Plants to pots" testId="plants">
      <p className="field-remark">
        Weigh or count the plants before they have a pot: the draw then shares them out by size, so
        that no treatment starts ahead.
      </p>
      {plan.layout?.plantedAt ? null : <ListPlants plan={plan} unit={unit} />}
      {plants.length > 0 ? (
        <>
          <StartHistogram plan={plan} unit={unit} />
          <PlantTable plan={plan} plants={plants} unit={unit} />
          <Place
            plan={plan}
            measurementId={measurement?.id ?? null}
            goesInto={measurement ? measurementLabel(measurement) : null}
          />
          <Substitute plan={plan} />
        </>
      ) : null}
    </Section>
  );
}

function ListPlants({ plan, unit }: { plan: Plan; unit: string }) {
  const dispatch = useDispatch();
  const [text, setText] = useState('');
  const known = plan.plants ?? [];
  const { plants, problems } = useMemo(
    () => readPlantList(text, plan.plants ?? [], plan.trial),
    [text, plan.plants, plan.trial],
  );
  const brought = broughtFactors(plan.trial).map((factor) => factor.name);
  return (
    <>
      <TextArea
        label={`One plant a line: code, value${unit ? ` in ${unit}` : ''}${brought.map((name) => `, ${name}`).join('')}`}
        remark="Typed or pasted from a table. A value alone gets the next free code."
        rows={4}
        value={text}
        testId="plant-list"
        onCommit={setText}
      />
      {problems.slice(0, 5).map((problem) => (
        <p key={problem} className="field-problem">
          {problem}
        </p>
      ))}
      {problems.length > 5 ? (
        <p className="field-problem">and {problems.length - 5} more lines.</p>
      ) : null}
      <div className="section-actions">
        <Button
          disabled={plants.length === 0}
          data-testid="add-plants"
          onClick={() => {
            if (dispatch(setPlants, { plants: [...known, ...plants] }).ok) setText('');
          }}
        >
          {plants.length > 0 ? `Add ${plural(plants.length, 'plant')}` : 'Add plants'}
        </Button>
        {known.length > 0 ? (
          <Button tone="quiet" onClick={() => dispatch(setPlants, { plants: [] })}>
            Clear the list
          </Button>
        ) : null}
      </div>
    </>
  );
}

/** How many plants there are of each size. Dark and grey stay apart in black and white. */
function StartHistogram({ plan, unit }: { plan: Plan; unit: string }) {
  const options = useMemo((): Plot.PlotOptions => {
    const spares = new Set(sparePlantsOf(plan).map((plant) => plant.code));
    const placed = plan.layout?.assignments.some((assignment) => assignment.plant !== null);
    const rows = (plan.plants ?? [])
      .filter((plant) => !plant.lost)
      .map(({ code, startValue }) => ({
        startValue,
        use: placed && spares.has(code) ? 'spare' : 'for a pot',
      }));
    return {
      height: 150,
      marginLeft: 36,
      marginBottom: 38,
      x: { label: unit ? `starting value, ${unit}` : 'starting value' },
      y: { label: 'plants', grid: true },
      color: {
        legend: true,
        domain: ['for a pot', 'spare'],
        range: ['var(--accent)', 'var(--line-strong)'],
      },
      marks: [
        Plot.rectY(
          rows,
          Plot.binX<Plot.RectYOptions>(
            { y: 'count' },
            { x: 'startValue', thresholds: 14, fill: 'use', inset: 0.5 },
          ),
        ),
        Plot.ruleY([0]),
      ],
    };
  }, [plan, unit]);
  return (
    <PlotFigure
      testId="plant-histogram"
      label="How many of the listed plants there are of each starting size; spares are grey"
      options={options}
    />
  );
}

function Place(props: { plan: Plan; measurementId: string | null; goesInto: string | null }) {
  const { plan, measurementId, goesInto } = props;
  const dispatch = useDispatch();
  const [problem, setProblem] = useState<string | null>(null);
  const { layout } = plan;
  if (!layout) return <p className="field-remark">Draw the layout; then the plants get pots.</p>;
  const placed = layout.assignments.filter((a) => a.plant !== null).length;
  const spares = sparePlantsOf(plan).length;
  const classes = sizeClassesOf(plan);
  const place = () => {
    const found = placementOf(plan);
    setProblem(found.ok ? null : found.reason);
    if (found.ok) dispatch(placePlants, { places: found.value.places, measurementId });
  };
  return (
    <>
      {classes ? (
        <p className="field-remark">
          {sizeClassWords(classes)}{' '}
          {goesInto ? `Starting values go into the records as ${goesInto}.` : ''}
        </p>
      ) : null}
      <div className="section-actions">
        <Button onClick={place} disabled={layout.plantedAt !== null} data-testid="place-plants">
          {placed > 0 ? 'Give plants to pots again' : 'Give plants to pots'}
        </Button>
      </div>
      <Problem text={problem} />
      {placed > 0 ? (
        <p role="status" data-testid="placed">
          {plural(placed, 'plant')} in pots, {plural(spares, 'spare')}.
        </p>
      ) : null}
    </>
  );
}
