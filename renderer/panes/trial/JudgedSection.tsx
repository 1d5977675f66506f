import type { Plan } from '../../../shared-types/plan';
import { questionsOf, rackPictureOf, schemeMisfitsOf, unitsOfPlan } from '../../derive';
import { Fold, Section } from '../../ui';
import { QuestionCard } from './QuestionCard';
import { PictureKey, RackPicture } from './RackPicture';
import { Skeleton } from './Skeleton';
import { WaysOut } from './WaysOut';

/** Whether the trial can answer what it asks, before anything is planted, and what could be done. */
export function JudgedSection({ plan }: { plan: Plan }) {
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
          Say below how much equal plants differ, and each question tells the smallest difference
          that will show.
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
  return (
    <div className="rack-picture-row">
      <RackPicture picture={picture} label="The rack in small, by what each part of it is given" />
      <div>
        <PictureKey picture={picture} />
        {picture.example ? <p className="field-remark">One draw of many, as an example.</p> : null}
      </div>
    </div>
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
