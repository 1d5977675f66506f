import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { PlanPlant } from '../../../shared-types/plant';
import { startMeasurementOf, substitutesInPot } from '../../derive';
import { substitutePlant } from '../../document/commands';
import { codeOfPot, idsOf } from '../../document/queries';
import { asWritten } from '../../document/records';
import { useDispatch, useSession } from '../../store/context';
import { Problem, ReasonForm, Select, today } from '../../ui';
import { figure } from '../../words';

/** So many are read at a glance; the next are ever less like the plant that broke. */
const LISTED = 6;

/** For the selected pot: a spare takes the place of a plant that broke, the most like it first. */
export function Substitute({ plan }: { plan: Plan }) {
  const selection = useSession((s) => s.selection);
  const [potId, ...others] = idsOf(selection, 'pot');
  const placed = plan.layout?.assignments.some((a) => a.plant !== null) ?? false;
  if (!placed) return null;
  const plant = plan.layout?.assignments.find((a) => a.potId === potId)?.plant ?? null;
  if (potId === undefined || others.length > 0 || plant === null) {
    return <p className="field-remark">One broke? Select its pot on the rack.</p>;
  }
  const spares = substitutesInPot(plan, potId);
  if (spares.length === 0) {
    return <p className="field-remark">No spare plant fits pot {codeOfPot(plan, potId)}.</p>;
  }
  return <SubstituteForm key={plant} {...{ plan, potId, plant, spares }} />;
}

function SubstituteForm(props: {
  plan: Plan;
  potId: string;
  plant: string;
  spares: readonly PlanPlant[];
}) {
  const { plan, potId, plant, spares } = props;
  const measurement = startMeasurementOf(plan);
  const unit = measurement?.unit ?? '';
  const measurementId = measurement?.id ?? null;
  const dispatch = useDispatch();
  const [chosen, setChosen] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [nearest] = spares;
  const spare = spares.find(({ code }) => code === chosen) ?? nearest;
  if (!spare) return null;
  const code = codeOfPot(plan, potId);
  const was = plan.plants?.find((one) => one.code === plant)?.startValue;
  const size = (value: number) => `${asWritten(value)} ${unit}`.trimEnd();
  return (
    <>
      <Select
        label={`In place of ${plant}${was === undefined ? '' : ` (${size(was)})`} in pot ${code}, the most alike first`}
        testId="substitute-spare"
        value={spare.code}
        options={spares.slice(0, LISTED).map((one) => ({
          value: one.code,
          label: `${one.code}: ${size(one.startValue)}${was === undefined ? '' : `, ${apart(one.startValue - was, unit)}`}`,
        }))}
        onCommit={setChosen}
      />
      <Problem text={problem} />
      <ReasonForm
        label="Reason"
        action={`Put ${spare.code} into ${code}`}
        testId="substitute"
        onGive={(reason) => {
          const done = dispatch(substitutePlant, {
            potId,
            plant: spare.code,
            measurementId,
            date: today(),
            reason,
          });
          setProblem(done.ok ? null : done.reason);
        }}
      />
    </>
  );
}

function apart(difference: number, unit: string): string {
  if (Math.abs(difference) < 1e-9) return 'the same';
  return `${figure(Math.abs(difference))}${unit ? ` ${unit}` : ''} ${difference > 0 ? 'more' : 'less'}`;
}
