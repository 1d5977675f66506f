import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { growAnyway, rackPictureOf, unansweredOf, waysOutOf, type WayOut } from '../../derive';
import { withdrawAcceptance } from '../../document/commands';
import { runName, runsOf, seenFrom } from '../../document/runs';
import { useDispatch, usePlanStore } from '../../store/context';
import { Button, Fold, ReasonForm, today } from '../../ui';
import { list } from '../../words';
import { GradeMark } from './QuestionCard';
import { RackPicture } from './RackPicture';
import { Skeleton } from './Skeleton';

/** More ways at once are not read; the rest is folded away. */
const AT_ONCE = 4;

/** What can be done about questions that cannot be answered, each with how all of them stand then. */
export function WaysOut({ plan }: { plan: Plan }) {
  const ways = waysOutOf(plan);
  const unanswered = unansweredOf(plan);
  if (ways.length === 0 && unanswered.length === 0) return null;
  const decided = unanswered.length > 0 && unanswered.every(({ reason }) => reason !== null);
  return (
    <Fold title={<strong>Ways out on this rack</strong>} open={!decided} testId="ways-out">
      {ways.length > 0 ? (
        <p className="field-remark">
          Nothing changes until you choose, and one undo takes it back.
        </p>
      ) : null}
      <ul className="ways-out">
        {ways.slice(0, AT_ONCE).map((way) => (
          <Way key={way.title} way={way} plan={plan} />
        ))}
      </ul>
      {ways.length > AT_ONCE ? (
        <Fold title={`${ways.length - AT_ONCE} more`}>
          <ul className="ways-out">
            {ways.slice(AT_ONCE).map((way) => (
              <Way key={way.title} way={way} plan={plan} />
            ))}
          </ul>
        </Fold>
      ) : null}
      <Anyway plan={plan} />
    </Fold>
  );
}

const SEEN: Readonly<Record<string, string>> = { now: 'before', then: 'after' };

function Way({ way, plan }: { way: WayOut; plan: Plan }) {
  const dispatch = useDispatch();
  const pictures = way.after === plan ? [] : picturesAfter(way, plan);
  return (
    <li className="card way-out">
      <div className="way-pictures">
        {pictures.map(({ name, picture }) => (
          <figure key={name}>
            <RackPicture
              small
              picture={picture}
              label={`The rack ${SEEN[name] ?? `in ${name}, after`}: ${way.title}`}
            />
            <figcaption>{name}</figcaption>
          </figure>
        ))}
      </div>
      <div>
        <h3>{way.title}</h3>
        <p className="field-remark">{way.costs.join(' · ')}</p>
        <p className="grades">
          {way.questions.map((question) => (
            <GradeMark key={question.factorId} question={question} withName />
          ))}
        </p>
        {way.worse.length > 0 ? (
          <p className="field-problem">Worse than now for {list(way.worse)}.</p>
        ) : null}
        <div className="section-actions">
          <Button
            tone="primary"
            onClick={() => dispatch(way.command(today()), null)}
            aria-label={`Do this: ${way.title}`}
          >
            Do this
          </Button>
          {pictures.length > 0 ? <ShowOnRack way={way} /> : null}
        </div>
        <Fold title="How, and its figures">
          {() => (
            <>
              <p>{way.says}</p>
              <Skeleton caption="Its analysis of variance" rows={way.skeleton} />
            </>
          )}
        </Fold>
      </div>
    </li>
  );
}

/** The rack now beside what it is then; of swapped runs the first two, which show what is swapped. */
function picturesAfter({ after }: WayOut, plan: Plan) {
  const runs = runsOf(after).length > runsOf(plan).length ? runsOf(after).slice(0, 2) : [];
  const shown =
    runs.length > 0
      ? runs.map(({ id }) => ({ name: runName(after, id), seen: seenFrom(after, id) }))
      : [
          { name: 'now', seen: plan },
          { name: 'then', seen: after },
        ];
  return shown.flatMap(({ name, seen }) => {
    const picture = rackPictureOf(seen, plan);
    return picture ? [{ name, picture }] : [];
  });
}

/** Shows the way on the canvas, without doing it. */
function ShowOnRack({ way }: { way: WayOut }) {
  const preview = usePlanStore((s) => s.previewCommand);
  const cancel = usePlanStore((s) => s.cancelPreview);
  const [shown, setShown] = useState(false);
  const isShown = usePlanStore((s) => s.preview !== null) && shown;
  return (
    <Button
      aria-pressed={isShown}
      aria-label={`Show on the rack: ${way.title}`}
      onClick={() => {
        if (isShown) cancel();
        else preview(way.command(null), null);
        setShown(!isShown);
      }}
    >
      {isShown ? 'Back to the rack as it is' : 'Show on the rack'}
    </Button>
  );
}

/** To grow the trial all the same, with a reason that the report prints, or what was decided so. */
function Anyway({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const unanswered = unansweredOf(plan);
  if (unanswered.length === 0) return null;
  const open = unanswered.filter(({ reason }) => reason === null);
  const names = list(open.map(({ name }) => name));
  return (
    <div className="card way-anyway">
      {open.length > 0 ? (
        <>
          <h3>Grow it anyway, and claim nothing about {names}</h3>
          <ReasonForm
            label="Why (the report prints it)"
            action="Accept with this reason"
            testId="grow-anyway"
            onGive={(why) => dispatch(growAnyway(plan, why, today()), null)}
          />
        </>
      ) : null}
      {unanswered
        .filter(({ reason }) => reason !== null)
        .map(({ factorId, kind, about, reason }) => (
          <div key={factorId}>
            <p>{reason}</p>
            <Button tone="quiet" onClick={() => dispatch(withdrawAcceptance, { kind, about })}>
              Decide otherwise
            </Button>
          </div>
        ))}
    </div>
  );
}
