import type { LightPlan } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import { burntDaysOf } from '../../derive';
import { useState } from 'react';
import { editLight, type LightAim } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { FieldList, FieldRow, NumberField, type FieldOf } from '../../ui';
import { plural, fieldNumber } from '../../words';

const ASKED: readonly FieldOf<LightAim>[] = [
  {
    as: 'number',
    key: 'photoperiodHours',
    label: 'Photoperiod',
    testId: 'photoperiod',
    unit: 'h/day',
    lowest: 0,
    highest: 24,
    step: 0.5,
  },
  {
    as: 'number',
    key: 'lowestMinToMean',
    label: 'Least min : mean',
    testId: 'least-min-mean',
    lowest: 0,
    highest: 1,
    step: 0.05,
    decimals: 2,
  },
];
const CANOPY: FieldOf<LightAim> = {
  as: 'choice',
  key: 'canopyAt',
  label: 'Canopy height used',
  testId: 'canopy-at',
  options: [
    { value: 'planting', label: 'at planting' },
    { value: 'midway', label: 'midway to harvest' },
    { value: 'harvest', label: 'at harvest' },
  ],
};

/** What the person asks of the light. */
export function AimFields({ plan }: { plan: Plan }) {
  const { light } = plan;
  const dispatch = useDispatch();
  const list = {
    of: light,
    system: plan.display.lengths,
    onChange: (patch: Partial<LightAim>) => dispatch(editLight, { patch }),
  };
  const worn = wornWords(plan);
  return (
    <>
      <FieldList<LightAim> {...list} fields={ASKED} />
      <TargetFields light={light} />
      <FieldList<LightAim> {...list} fields={[worn ? { ...CANOPY, remark: worn } : CANOPY]} />
    </>
  );
}

/** That lamps which age are taken as worn as they are by then; undefined where none ages. */
function wornWords(plan: Plan): string | undefined {
  const { canopyAt } = plan.light;
  if (!plan.rack.lampKinds.some(({ lossPer1000h = 0 }) => lossPer1000h > 0)) return undefined;
  const days = burntDaysOf(plan, canopyAt);
  return days > 0
    ? `Lamps are taken as worn by ${plural(Math.round(days), 'day')} of the trial.`
    : 'Lamps are taken as worn as they are when the trial begins.';
}

/** Both ends of the target, each kept as it was typed: one never changes the other. */
function TargetFields({ light }: { light: LightPlan }) {
  const dispatch = useDispatch();
  const [typed, setTyped] = useState<{ lowest?: number; highest?: number }>({});
  const { lowest, highest } = light.targetPpfdUmol ?? typed;
  const set = (end: { lowest: number } | { highest: number }) => {
    const ends = { lowest, highest, ...end };
    if (ends.lowest === undefined || ends.highest === undefined) {
      setTyped(end);
      return;
    }
    const targetPpfdUmol = { lowest: ends.lowest, highest: ends.highest };
    dispatch(editLight, { patch: { targetPpfdUmol } });
  };
  const half = (lowest === undefined) !== (highest === undefined);
  const shared = {
    unit: 'µmol m⁻² s⁻¹',
    lowest: 0,
    highest: 5000,
    step: 10,
    placeholder: 'not set',
  } as const;
  return (
    <FieldRow>
      <NumberField
        {...shared}
        label="Target PPFD from"
        value={lowest ?? null}
        testId="target-lowest"
        remark={half ? 'A target needs both ends; it is not used yet.' : undefined}
        refuse={(from) =>
          highest !== undefined && from > highest
            ? `The target ends at ${fieldNumber(highest)}; raise “to” first.`
            : null
        }
        onCommit={(from) => set({ lowest: from })}
      />
      <NumberField
        {...shared}
        label="to"
        value={highest ?? null}
        testId="target-highest"
        refuse={(to) =>
          lowest !== undefined && to < lowest
            ? `The target begins at ${fieldNumber(lowest)}; lower “from” first.`
            : null
        }
        onCommit={(to) => set({ highest: to })}
      />
    </FieldRow>
  );
}
