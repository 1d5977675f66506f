import { useState } from 'react';
import { useSession } from '../../store/context';
import { TermWords, TextSearch } from '../../ui';
import { glossary, glossaryTerms, phrasesOf, type GlossaryTerm } from '../../words';

/** Every term; those that were asked about come first. */
export function GlossaryPage() {
  const about = useSession((s) => s.help?.about ?? NONE);
  const [sought, setSought] = useState('');
  const found = glossaryTerms.filter((term) => holds(term, sought));
  const here = sought === '' ? about : [];
  const rest = found.filter((term) => !here.includes(term));
  return (
    <>
      <TextSearch label="Find a term" value={sought} onChange={setSought} testId="find-term" />
      {here.length > 0 ? <Terms title="Here" terms={here} /> : null}
      {rest.length > 0 ? (
        <Terms title={here.length > 0 ? 'All others' : 'By name'} terms={rest} />
      ) : (
        <p role="status">No term holds “{sought}”.</p>
      )}
    </>
  );
}

const NONE: readonly GlossaryTerm[] = [];

function Terms({ title, terms }: { title: string; terms: readonly GlossaryTerm[] }) {
  return (
    <>
      <h3>{title}</h3>
      <ul className="plain-list glossary">
        {terms.map((term) => (
          <li key={term} data-testid={`term-${term}`}>
            <TermWords term={term} />
          </li>
        ))}
      </ul>
    </>
  );
}

/** By its name, its formal term, or any way it is written. */
function holds(term: GlossaryTerm, sought: string): boolean {
  const { name, term: formal = '' } = glossary[term];
  const wanted = sought.trim().toLowerCase();
  return [name, formal, ...phrasesOf(term)].some((words) => words.toLowerCase().includes(wanted));
}
