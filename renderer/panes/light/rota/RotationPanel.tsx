import { useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { correctionWords, lightOverTrialOf, regularRota, type RotaPattern } from '../../../derive';
import { setRota } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { Button, FieldList, Problem, type FieldOf } from '../../../ui';
import { TrialDaysField, useTrialDays } from '../TrialDaysField';
import { RotaOutcome } from './RotaOutcome';
import { RotaTable } from './RotaTable';

/** A rota in equal periods. */
interface Regular {
  everyDays: number;
  pattern: RotaPattern;
}

const REGULAR: readonly FieldOf<Regular>[] = [
  {
    as: 'number',
    key: 'everyDays',
    label: 'Move every',
    testId: 'rota-every',
    unit: 'days',
    whole: true,
    lowest: 1,
    highest: 365,
  },
  {
    as: 'choice',
    key: 'pattern',
    label: 'Each tray',
    testId: 'rota-pattern',
    options: [
      { value: 'next', label: 'goes one place on' },
      { value: 'turn', label: 'is turned half round' },
      { value: 'next-and-turn', label: 'both in turn' },
    ],
  },
];

/** Trays moved by a rota: the light each pot gets over the whole trial. */
export function RotationPanel({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const [days] = useTrialDays(plan);
  const [regular, setRegular] = useState<Regular>({ everyDays: 7, pattern: 'next' });
  const [unmade, setUnmade] = useState<string | null>(null);
  const rota = plan.light.rota ?? [];
  const found = lightOverTrialOf(plan);
  const make = () => {
    const made = regularRota(plan.rack, days, regular.everyDays, regular.pattern);
    const done = dispatch(setRota, { rota: made });
    const short = made.length === 0 ? 'The trial ends before the first move.' : null;
    setUnmade(done.ok ? short : done.reason);
  };
  return (
    <>
      <FieldList<Regular>
        of={regular}
        fields={REGULAR}
        system={plan.display.lengths}
        onChange={(patch) => setRegular({ ...regular, ...patch })}
      >
        <TrialDaysField plan={plan} />
      </FieldList>
      <div className="section-actions">
        <Button data-testid="rota-make" onClick={make}>
          {rota.length > 0 ? 'Make the rota anew' : 'Make a rota'}
        </Button>
        {rota.length > 0 ? (
          <Button data-testid="rota-drop" onClick={() => dispatch(setRota, { rota: [] })}>
            No rota
          </Button>
        ) : null}
      </div>
      <Problem text={rota.length === 0 ? unmade : null} />
      <Problem text={found?.ok === false ? found.reason : null} />
      {found?.ok ? <RotaOutcome plan={plan} light={found.value} /> : null}
      <Problem text={rota.length > 0 ? correctionWords(plan) : null} />
      {rota.length > 0 ? (
        <RotaTable plan={plan} rota={rota} />
      ) : (
        <p className="field-remark">
          A tray goes round among the trays of its size on its shelf; every move can be changed
          afterwards. The rota is kept in the plan. Blocks are drawn by the light as the trays stand
          on the rack.
        </p>
      )}
    </>
  );
}
