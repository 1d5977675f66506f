import type { Plan } from '../../../shared-types/plan';
import { needsWayOut, schemeMisfitsOf, unitsOfPlan } from '../../derive';
import type { FactorUnits } from '../../engine/trial';
import { withdrawAcceptance } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Button, Section, SeverityMark } from '../../ui';
import { Skeleton } from './Skeleton';
import { WaysOut } from './WaysOut';
import { unitWords } from '../../../shared-types/trial';

/** The unit, the replicates and the error term of every factor, before anything is planted. */
export function JudgedSection({ plan }: { plan: Plan }) {
  const units = unitsOfPlan(plan);
  if (!units.ok || units.value.factors.length === 0) {
    return (
      <Section title="Can this trial answer?" testId="skeleton">
        {units.ok ? (
          <p className="field-remark">Nothing is compared yet.</p>
        ) : (
          <p className="field-problem">{units.reason}</p>
        )}
      </Section>
    );
  }
  const { factors, skeleton } = units.value;
  const misfits = schemeMisfitsOf(plan);
  // Of a scheme that cannot be drawn nothing holds but that a level has no replicates.
  const told = factors.filter((factor) => misfits.length === 0 || !factor.replicated);
  return (
    <Section title="Can this trial answer?" testId="skeleton">
      <ul className="verdicts">
        {told.map((factor) => (
          <li key={factor.factorId}>
            {factor.replicated && factor.errorDf > 0 ? null : (
              <SeverityMark severity="stop" size={14} />
            )}
            <span>{verdict(factor)}</span>
          </li>
        ))}
      </ul>
      {misfits.map(({ text, remedy }) => (
        <p key={text} className="field-problem">
          {text} {remedy}
        </p>
      ))}
      {misfits.length === 0 ? (
        <>
          <Skeleton caption="Analysis of variance of this design" rows={skeleton} />
          <p className="field-remark">
            df, degrees of freedom: how many independent differences a line holds. With fewer than 4
            in its error term only a very large effect can show.
          </p>
        </>
      ) : null}
      {factors.filter(needsWayOut).map((factor) => (
        <Answer key={factor.factorId} plan={plan} factor={factor} />
      ))}
    </Section>
  );
}

/** What the plan says about a factor without replicates, or what could be done about it. */
function Answer({ plan, factor }: { plan: Plan; factor: FactorUnits }) {
  const dispatch = useDispatch();
  const about = [`factor:${factor.factorId}`];
  const accepted = plan.acceptedNotices.find(
    (notice) => notice.kind === 'factor-not-replicated' && notice.about.join() === about.join(),
  );
  if (!accepted || factor.replicated) return <WaysOut plan={plan} factor={factor} />;
  return (
    <div className="trial-way">
      <p>{accepted.reason}</p>
      <div className="section-actions">
        <Button
          tone="quiet"
          onClick={() => dispatch(withdrawAcceptance, { kind: 'factor-not-replicated', about })}
        >
          Decide otherwise
        </Button>
      </div>
    </div>
  );
}

function verdict(factor: FactorUnits): string {
  const counts = factor.unitsPerLevel.map((level) => level.units);
  const least = Math.min(...counts);
  const most = Math.max(...counts);
  const { one, many } = unitWords[factor.unit];
  const each = `${least === most ? least : `${least} to ${most}`} ${most === 1 ? one : many} a level`;
  if (!factor.replicated) {
    return `${factor.name} is not replicated: ${each}. A difference between these ${many} could be the ${many} themselves, and no number of plants on them can tell.`;
  }
  const df = `${Math.max(0, factor.errorDf)} df`;
  return factor.errorDf > 0
    ? `${factor.name}: ${each}, judged by the variation ${factor.errorTerm} with ${df}.`
    : `${factor.name}: ${each}, but the variation ${factor.errorTerm} has ${df} left: nothing to compare with.`;
}
