import type { Plan } from '../../../shared-types/plan';
import {
  questionsOf,
  rackPictureOf,
  schemeMisfitsOf,
  unitsOfPlan,
  type PictureOfRack,
} from '../../derive';
import { blindedSince } from '../../document/queries';
import { hasSeveralRuns, runName, runsOf, seenFrom } from '../../document/runs';
import { Fold, Section } from '../../ui';
import { plural } from '../../words';
import { QuestionCard } from './QuestionCard';
import { PictureKey, RackPicture } from './RackPicture';
import { Skeleton } from './Skeleton';
import { WaysOut } from './WaysOut';

/**
 * Whether the trial can answer what it asks, before anything is planted, and what could be done.
 * `alone`: without the other sections of the trial stage below it.
 */
export function JudgedSection({ plan, alone = false }: { plan: Plan; alone?: boolean }) {
  const questions = questionsOf(plan);
  if (!questions.ok || questions.value.length === 0) {
    return (
      <Section title="Can this trial answer?" testId="skeleton">
        {questions.ok ? (
          <p className="field-remark">Nothing is compared yet.</p>
        ) : (
          <p className="field-problem">{questions.reason}</p>
        )}
      </Section>
    );
  }
  const misfits = schemeMisfitsOf(plan);
  // Of a scheme that cannot be drawn nothing holds but what cannot be answered.
  const told = questions.value.filter(({ grade }) => misfits.length === 0 || grade === 'cannot');
  return (
    <Section title="Can this trial answer?" testId="skeleton">
      <Picture plan={plan} />
      <ul className="question-cards">
        {told.map((question) => (
          <QuestionCard key={question.factorId} question={question} />
        ))}
      </ul>
      {plan.trial?.expected ? null : (
        <p className="field-remark">
          Say {alone ? 'on the stage Trial' : 'below'} how much equal plants differ, and each
          question tells the smallest difference that will show.
        </p>
      )}
      {misfits.map(({ text, remedy }) => (
        <p key={text} className="field-problem">
          {text} {remedy}
        </p>
      ))}
      {misfits.length === 0 ? <Figures plan={plan} /> : null}
      <WaysOut plan={plan} />
    </Section>
  );
}

function Picture({ plan }: { plan: Plan }) {
  const picture = rackPictureOf(plan, plan);
  if (!picture || picture.shelves.length === 0) return null;
  if (hasSeveralRuns(plan)) return <RunPictures plan={plan} picture={picture} />;
  return (
    <div className="rack-picture-row">
      <RackPicture picture={picture} label="The rack in small, by what each part of it is given" />
      <div>
        <PictureKey picture={picture} />
        {picture.example ? <p className="field-remark">{exampleWords(plan)}</p> : null}
      </div>
    </div>
  );
}

const exampleWords = (plan: Plan): string =>
  blindedSince(plan) === null
    ? 'One draw of many, as an example.'
    : 'One draw of many, as an example. The trial’s own waits while it is blinded.';

/** More runs than this show nothing new of what is swapped. */
const RUNS_SHOWN = 4;

/** The rack in each run, so that one sees what is swapped between them. */
function RunPictures({ plan, picture }: { plan: Plan; picture: PictureOfRack }) {
  const runs = runsOf(plan);
  const shown = runs.slice(0, RUNS_SHOWN).flatMap(({ id }) => {
    const own = rackPictureOf(seenFrom(plan, id), plan);
    return own ? [{ name: runName(plan, id), own }] : [];
  });
  const rest = runs.length - shown.length;
  return (
    <>
      <div className="run-pictures">
        {shown.map(({ name, own }) => (
          <figure key={name}>
            <RackPicture small picture={own} label={`The rack in ${name}, by what it is given`} />
            <figcaption>{name}</figcaption>
          </figure>
        ))}
      </div>
      <PictureKey picture={picture} />
      <p className="field-remark">
        {rest > 0 ? `And ${plural(rest, 'run')} more. ` : ''}
        {picture.example ? exampleWords(plan) : ''}
      </p>
    </>
  );
}

function Figures({ plan }: { plan: Plan }) {
  const units = unitsOfPlan(plan);
  if (!units.ok) return null;
  return (
    <Fold title="Figures: sources, error terms, degrees of freedom" testId="skeleton-figures">
      <Skeleton caption="Analysis of variance of this design" rows={units.value.skeleton} />
      <p className="field-remark">
        df, degrees of freedom: how many independent differences a line holds. With fewer than 4 in
        its error term only a very large effect can show.
      </p>
    </Fold>
  );
}
