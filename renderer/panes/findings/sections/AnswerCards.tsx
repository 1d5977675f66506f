import {
  answerCards,
  remarksOf,
  sureMeaning,
  sureWords,
  unbroken,
  type Answer,
  type Findings,
  type Sure,
} from '../../../engine/findings';
import { Fold } from '../../../ui';

/** The answers first: one card a question, read in a few seconds; below them what they rest on. */
export function AnswerCards({ findings }: { findings: Findings }) {
  const { first, folded, foldedWords } = answerCards(findings);
  if (first.length === 0) return null;
  return (
    <>
      <Cards answers={first} alpha={findings.alpha} label="Answers" testId="answers" />
      {folded.length > 0 ? (
        <Fold title={foldedWords} className="fold answer-more" testId="more-answers">
          <Cards answers={folded} alpha={findings.alpha} label="More answers" />
        </Fold>
      ) : null}
      <dl className="answer-remarks" data-testid="answer-remarks">
        {remarksOf(findings).map(({ of, head, text }) => (
          <div key={of}>
            <dt>{head}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
      <Fold title="How sure is that?" className="fold answer-more" testId="sure-meanings">
        {(Object.keys(sureWords) as Sure[]).map((sure) => (
          <p key={sure}>{sureMeaning(sure, findings.alpha)}</p>
        ))}
      </Fold>
    </>
  );
}

function Cards(props: {
  answers: readonly Answer[];
  alpha: number;
  label: string;
  testId?: string;
}) {
  return (
    <ul className="answer-cards" aria-label={props.label} data-testid={props.testId}>
      {props.answers.map((answer) => (
        <Card
          key={`${answer.about} ${answer.of} ${answer.headline}`}
          answer={answer}
          alpha={props.alpha}
        />
      ))}
    </ul>
  );
}

function Card({ answer, alpha }: { answer: Answer; alpha: number }) {
  const { of, headline, figure, sure, why } = answer;
  return (
    <li className="card answer-card">
      <p className="answer-of">{of}</p>
      <h3>{unbroken(headline)}</h3>
      {figure === '' ? null : <p>{unbroken(figure)}</p>}
      <p className="answer-why">
        {sure ? (
          <span className={`sure sure-${sure}`} title={sureMeaning(sure, alpha)}>
            {sureWords[sure]}
          </span>
        ) : null}{' '}
        {why}
      </p>
    </li>
  );
}
