import type { ValueQuestion } from '../../derive/recordNotices';
import { Button } from '../../ui';

/** One line that asks about an odd value, or else says what has happened. It blocks nothing. */
export function QuestionLine(props: {
  questions: readonly ValueQuestion[];
  /** Whether the value asked about is in another cell than the cursor. */
  elsewhere: boolean;
  said: string | null;
  summary: string;
  onGo: () => void;
  onAnswer: () => void;
}) {
  const { questions } = props;
  if (questions.length === 0) {
    return (
      <p className="question-line" role="status" title={props.said ?? props.summary}>
        <span>{props.said ?? props.summary}</span>
      </p>
    );
  }
  const text = inOneSentence(questions.map((question) => question.text));
  return (
    <div className="question-line is-asking" role="status" data-testid="question">
      <span title={text}>{text}</span>
      {props.elsewhere ? (
        <Button tone="quiet" onClick={props.onGo}>
          Go there
        </Button>
      ) : null}
      <Button tone="quiet" data-testid="question-right" onClick={props.onAnswer}>
        It is right (F9)
      </Button>
    </div>
  );
}

/** What sentences about one value begin alike is said once. */
function inOneSentence([first = '', ...others]: readonly string[]): string {
  const words = first.split(' ');
  const rest = others.map((other) => {
    const more = other.split(' ');
    const alike = more.findIndex((word, i) => word !== words[i]);
    return more.slice(Math.max(0, alike)).join(' ').replace(/\.$/, '');
  });
  return `${[first.replace(/\.$/, ''), ...rest].join('; ')}.`;
}
