import { useDeferredValue } from 'react';
import {
  quickLimits,
  vessels,
  vesselWords,
  type QuickAnswers,
} from '../../../shared-types/window/quickStart';
import { quickFiguresOf } from '../../derive';
import { readGrid, sayGrid, usualLamps } from '../../document/quickStart';
import { useKept, usePlanStore } from '../../store/context';
import { LengthField, NumberField, Section, Select, TypedField } from '../../ui';
import { figures, formatLength, plural, type UnitSystem } from '../../words';
import { OwnPresets } from './OwnPresets';
import { PRESETS } from '../shared/presets/presets';
import { ProblemAt, type QuickPart } from './ProblemAt';

/** Shelves, trays, pots and lamps; all shelves are alike until they are changed on the rack. */
export function RackAnswers(part: QuickPart) {
  return (
    <Section title="Your rack" testId="quick-rack">
      <ShelfAnswers {...part} />
      <PotAnswers {...part} />
      <ProblemAt {...part} field="clearance" />
      <ProblemAt {...part} field="vessels" />
      <ProblemAt {...part} field="pots" />
      <ProblemAt {...part} field="lamps" />
      <OwnPresets {...part} />
      <RackFigures lengths={part.lengths} />
    </Section>
  );
}

function ShelfAnswers({ answers, lengths, onChange }: QuickPart) {
  const length = (key: 'widthMm' | 'depthMm' | 'clearanceMm', label: string, id: string) => {
    const { lowest, highest } =
      key === 'clearanceMm' ? quickLimits.clearanceMm : quickLimits.sideMm;
    return (
      <LengthField
        label={label}
        system={lengths}
        valueMm={answers[key]}
        lowestMm={lowest}
        highestMm={highest}
        testId={id}
        onCommit={(mm) => onChange({ [key]: mm } satisfies Partial<QuickAnswers>)}
      />
    );
  };
  return (
    <div className="quick-fields" data-fields="clearance lamps">
      <NumberField
        label="Shelves"
        whole
        {...quickLimits.shelves}
        value={answers.shelves}
        testId="quick-shelves"
        onCommit={(shelves) => onChange({ shelves })}
      />
      {length('widthMm', 'Width', 'quick-width')}
      {length('depthMm', 'Depth', 'quick-depth')}
      {length('clearanceMm', 'Clearance', 'quick-clearance')}
      <NumberField
        label="Lamps a shelf"
        whole
        {...quickLimits.lamps}
        value={answers.lamps}
        testId="quick-lamps"
        onCommit={(lamps) => onChange({ lamps })}
      />
      <LampAnswer answers={answers} onChange={onChange} />
    </div>
  );
}

function PotAnswers({ answers, lengths, onChange }: QuickPart) {
  const { one } = vesselWords[answers.vessel];
  return (
    <div className="quick-fields" data-fields="vessels pots">
      <NumberField
        label="On each shelf"
        whole
        {...quickLimits.vessels}
        value={answers.vessels}
        testId="quick-vessels"
        onCommit={(count) => onChange({ vessels: count })}
      />
      <Select
        label="of"
        value={answers.vessel}
        options={vessels.map((value) => ({ value, label: vesselWords[value].many }))}
        testId="quick-vessel"
        onCommit={(vessel) => onChange({ vessel })}
      />
      <TypedField
        label={`Pots in a ${one}`}
        value={answers}
        show={sayGrid}
        read={readGrid}
        numeric
        testId="quick-pots"
        onCommit={({ columns, rows }) => onChange({ columns, rows })}
      />
      <LengthField
        label="Pot width"
        system={lengths}
        valueMm={answers.potMm}
        lowestMm={quickLimits.potMm.lowest}
        highestMm={quickLimits.potMm.highest}
        testId="quick-pot"
        onCommit={(potMm) => onChange({ potMm, potHeightMm: null })}
      />
    </div>
  );
}

function LampAnswer({ answers, onChange }: Pick<QuickPart, 'answers' | 'onChange'>) {
  const [{ lamp: own }] = useKept(PRESETS);
  const offered = [...usualLamps, ...own.map(({ name, value }) => ({ ...value, name }))];
  return (
    <Select
      label="Lamp"
      value={answers.lamp.name}
      options={offered.map(({ name }) => ({ value: name, label: name }))}
      testId="quick-lamp"
      onCommit={(name) => {
        const lamp = offered.find((one) => one.name === name);
        if (lamp) onChange({ lamp });
      }}
    />
  );
}

/** What the rack that is shown holds and how evenly it is lit. */
function RackFigures({ lengths }: { lengths: UnitSystem }) {
  const plan = useDeferredValue(usePlanStore((s) => s.preview ?? s.plan));
  if (!plan || plan.rack.shelves.length === 0) return null;
  const { pots, pitchMm, light } = quickFiguresOf(plan);
  const apart = pitchMm ? `, ${sayPitch(pitchMm, lengths)} apart` : '';
  const lit = light
    ? `mean light ${figures(light.meanUmol, 3)} µmol m⁻² s⁻¹, darkest pot ${figures(light.darkestShare * 100, 2)} % of the mean`
    : 'no lamps: light is not computed';
  return (
    <p className="quick-figures" data-testid="quick-figures">
      {plural(pots, 'pot')}
      {apart} · {lit}
    </p>
  );
}

function sayPitch({ x, y }: { x: number; y: number }, lengths: UnitSystem): string {
  return x === y
    ? formatLength(x, lengths)
    : `${formatLength(x, lengths)} × ${formatLength(y, lengths)}`;
}
