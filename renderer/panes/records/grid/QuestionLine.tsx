import type { ValueQuestion } from '../../../derive/records/valueQuestions';
import { Button } from '../../../ui';

/** What has happened; `holds`: the cursor stays until the person has answered. */
export interface Announcement {
  text: string;
  holds: boolean;
  /** What can be done about it. */
  offer?: Offer | null;
}

export interface Offer {
  words: string;
  act: () => void;
}

/** One line that asks about an odd value, or else says what has happened. The questions block nothing. */
export function QuestionLine(props: {
  questions: readonly ValueQuestion[];
  /** Whether the value asked about is in another cell than the cursor. */
  elsewhere: boolean;
  said: Announcement | null;
  summary: string;
  onGo: () => void;
  onAnswer: () => void;
}) {
  const { questions, said } = props;
  // What holds the cursor back is about the keys just struck: it comes before an older question.
  if (questions.length === 0 || said?.holds) {
    const text = said?.text ?? props.summary;
    return (
      <p
        className={`question-line${said?.holds ? ' is-asking' : ''}`}
        role="status"
        data-testid={said?.holds ? 'held' : undefined}
        title={text}
      >
        <span>{text}</span>
        {said?.offer ? (
          <Button tone="quiet" data-testid="said-offer" onClick={said.offer.act}>
            {said.offer.words}
          </Button>
        ) : null}
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

const bareWord = (word: string) => word.replace(/[,;.]$/, '');

/** What sentences about one value begin alike is said once. */
export function inOneSentence([first = '', ...others]: readonly string[]): string {
  const words = first.split(' ').map(bareWord);
  const rest = others.map((other) => {
    const more = other.split(' ');
    const alike = more.findIndex((word, i) => bareWord(word) !== words[i]);
    return more.slice(Math.max(0, alike)).join(' ').replace(/\.$/, '');
  });
  return `${[first.replace(/\.$/, ''), ...rest].join('; ')}.`;
}
