import { glossary, type GlossaryTerm } from '../../words';
import { TermPicture } from './TermPicture';

/** What the glossary says of a term. */
export function TermWords({ term }: { term: GlossaryTerm }) {
  const { name, term: formal, says, source } = glossary[term];
  return (
    <>
      <p className="term-name">
        <strong>{name}</strong>
        {formal === undefined ? null : <span>{formal}</span>}
      </p>
      <p>{says}</p>
      <TermPicture term={term} />
      {source === undefined ? null : <p className="term-source">After {source}</p>}
    </>
  );
}
