import { answersOf, sureWords, unbroken, type Answer, type Findings } from '../../engine/findings';

/** The answers first: one card a question, read in a few seconds. */
export function AnswerCards({ findings }: { findings: Findings }) {
  const answers = answersOf(findings);
  if (answers.length === 0) return null;
  return (
    <ul className="answer-cards" data-testid="answers">
      {answers.map((answer) => (
        <Card key={`${answer.about} ${answer.of} ${answer.headline}`} answer={answer} />
      ))}
    </ul>
  );
}

function Card({ answer }: { answer: Answer }) {
  const { of, headline, figure, sure, why } = answer;
  return (
    <li className="card answer-card">
      <p className="answer-of">{of}</p>
      <h3>{unbroken(headline)}</h3>
      {figure === '' ? null : <p>{unbroken(figure)}</p>}
      <p className="answer-why">
        {sure ? <span className={`sure sure-${sure}`}>{sureWords[sure]}</span> : null} {why}
      </p>
    </li>
  );
}
