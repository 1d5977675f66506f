import { glossary, glossaryTerms } from '../../words';

const sources = [...new Set(glossaryTerms.flatMap((term) => glossary[term].source ?? []))].sort(
  (a, b) => a.localeCompare(b, 'en'),
);

/** Where the terms of the glossary are defined. */
export function TermSources() {
  return (
    <ul className="about-others">
      {sources.map((source) => (
        <li key={source}>{source}</li>
      ))}
    </ul>
  );
}
