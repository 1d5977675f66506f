import type { Plan } from '../../../shared-types/plan';
import { waysOutOf, type WayOutStep, type WayOut } from '../../derive';
import type { FactorUnits } from '../../engine/trial';
import { redesign, repeatShelves, repeatTrial, reportAsCase } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Button, Fold, today } from '../../ui';
import { Skeleton } from './Skeleton';

/** What can be done about a factor that cannot be judged, each with its own analysis and cost. */
export function WaysOut({ plan, factor }: { plan: Plan; factor: FactorUnits }) {
  const ways = waysOutOf(plan, factor.factorId);
  if (ways.length === 0) return null;
  return (
    <Fold
      title={<strong>Ways out for {factor.name}</strong>}
      open={!factor.replicated}
      testId="ways-out"
    >
      <ul className="trial-fits">
        {ways.map((way) => (
          <Way key={way.title} way={way} factor={factor.name} />
        ))}
      </ul>
    </Fold>
  );
}

function Way({ way, factor }: { way: WayOut; factor: string }) {
  const dispatch = useDispatch();
  return (
    <li className="trial-way">
      <Fold title={<strong>{way.title}</strong>} said={cost(way, factor)}>
        <p>{way.says}</p>
        {way.skeleton.length > 0 && way.step.do !== 'reportAsCase' ? (
          <Skeleton caption="Its analysis of variance" rows={way.skeleton} />
        ) : null}
        <div className="section-actions">
          <Button
            onClick={() => takeUp(dispatch, way.step, today())}
            aria-label={`Do this: ${way.title}`}
          >
            Do this
          </Button>
        </div>
      </Fold>
    </li>
  );
}

function cost(way: WayOut, factor: string): string {
  const pots = way.morePots > 0 ? `${way.morePots} pots more, ${way.pots} in all` : 'no more pots';
  if (way.step.do === 'reportAsCase') return `no test; ${pots}`;
  const thin = way.errorDf < 4 ? ', enough for a very large difference only' : '';
  return `${way.errorDf} df to judge ${factor} by${thin}; ${pots}`;
}

function takeUp(dispatch: ReturnType<typeof useDispatch>, step: WayOutStep, date: string): void {
  switch (step.do) {
    case 'redesign': {
      const { factorId, unit, blocks, scheme } = step;
      dispatch(redesign, { factorId, unit, blocks, scheme });
      return;
    }
    case 'repeatShelves':
      dispatch(repeatShelves, { times: step.times });
      return;
    case 'repeatTrial':
      dispatch(repeatTrial, { factorId: step.factorId, runs: step.runs, date });
      return;
    case 'reportAsCase':
      dispatch(reportAsCase, { factorId: step.factorId, date });
  }
}
