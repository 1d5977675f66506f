import type { TrialQuestion } from '../../derive';
import { gradeWords } from '../../engine/trial';

/** One question of the trial, how well it can be answered, and why. */
export function QuestionCard({ question }: { question: TrialQuestion }) {
  return (
    <li className="card question-card" data-testid={`question-${question.factorId}`}>
      <h3>{question.asks}</h3>
      <GradeMark question={question} />
      <p>{question.says}</p>
    </li>
  );
}

/** The grade as a word in its colour; `withName`: after the factor that it is of. */
export function GradeMark(props: { question: TrialQuestion; withName?: boolean }) {
  const { factor, grade, stand } = props.question;
  const mark = (
    <span className={`grade grade-${grade}`}>
      {gradeWords[grade]}
      {stand !== '' && grade !== 'cannot' ? `: ${stand}` : ''}
    </span>
  );
  if (!props.withName) return mark;
  return (
    <span className="grade-of">
      {factor.name} {mark}
    </span>
  );
}
