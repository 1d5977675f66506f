import type { Plan } from '../../../shared-types/plan';
import { waysOutOf, type Deed, type FactorUnits, type WayOut } from '../../derive';
import { redesign, repeatShelves, repeatTrial, reportAsCase } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Button } from '../../ui';
import { Skeleton } from './Skeleton';

/** What can be done about a factor that cannot be judged, each with its own analysis and cost. */
export function WaysOut({ plan, factor }: { plan: Plan; factor: FactorUnits }) {
  const ways = waysOutOf(plan, factor.factorId);
  if (ways.length === 0) return null;
  return (
    <details className="fold" open={!factor.replicated} data-testid="ways-out">
      <summary>
        <strong>Ways out for {factor.name}</strong>
      </summary>
      <ul className="trial-fits">
        {ways.map((way) => (
          <Way key={way.title} way={way} factor={factor.name} />
        ))}
      </ul>
    </details>
  );
}

function Way({ way, factor }: { way: WayOut; factor: string }) {
  const dispatch = useDispatch();
  const today = new Date().toISOString().slice(0, 10);
  return (
    <li className="trial-way">
      <strong>{way.title}</strong>
      <p>{way.says}</p>
      <p>
        {way.deed.do === 'reportAsCase' ? 'No test' : `${way.errorDf} df to judge ${factor} by`};{' '}
        {way.morePots > 0
          ? `${way.pots} pots in all, ${way.morePots} more than now.`
          : `${way.pots} pots, none more than now.`}
      </p>
      {way.skeleton.length > 0 && way.deed.do !== 'reportAsCase' ? (
        <details className="fold">
          <summary>Its analysis of variance</summary>
          <Skeleton caption={way.title} rows={way.skeleton} />
        </details>
      ) : null}
      <div className="section-actions">
        <Button
          onClick={() => takeUp(dispatch, way.deed, today)}
          aria-label={`Do this: ${way.title}`}
        >
          Do this
        </Button>
      </div>
    </li>
  );
}

function takeUp(dispatch: ReturnType<typeof useDispatch>, deed: Deed, date: string): void {
  switch (deed.do) {
    case 'redesign': {
      const { factorId, unit, blocks, scheme } = deed;
      dispatch(redesign, { factorId, unit, blocks, scheme });
      return;
    }
    case 'repeatShelves':
      dispatch(repeatShelves, { times: deed.times });
      return;
    case 'repeatTrial':
      dispatch(repeatTrial, { factorId: deed.factorId, runs: deed.runs, date });
      return;
    case 'reportAsCase':
      dispatch(reportAsCase, { factorId: deed.factorId, date });
  }
}
