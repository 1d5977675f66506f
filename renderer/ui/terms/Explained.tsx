import { marked } from '../../words';

/**
 * A label with its terms marked: each is explained where it is pointed at, and by F1 where the
 * keyboard is about it. `stops`: Tab stops there too; for titles, that stand on no control.
 */
export function Explained({ text, stops = false }: { text: string; stops?: boolean }) {
  return marked(text).map(({ text: words, term }, i) =>
    term === null ? (
      words
    ) : (
      <span
        key={i}
        className="term"
        data-term={term}
        {...(stops ? { tabIndex: 0, 'aria-describedby': TERM_TIP } : {})}
      >
        {words}
      </span>
    ),
  );
}

/** The id of the one explanation that is shown. */
export const TERM_TIP = 'term-tip';
