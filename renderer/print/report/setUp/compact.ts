import { inSentence, list } from '../../../words';
import { words, type FindingsTable } from '../cells';

/** A table of things by name (the first column) and their settings in words. */
export interface NamedSettings {
  name: string;
  caption: string;
  /** Heads: what is named, then what is set. */
  heads: readonly string[];
  rows: readonly (readonly string[])[];
  note?: string;
  /** One thing alone is told line by line: for a table that has half the page. */
  upright?: true;
}

/**
 * NamedSettings as a table no longer than need be: things set alike share a row, and what is the same for
 * all is said once below. null where nothing is named.
 */
export function settingsTable({
  name,
  caption,
  heads,
  rows,
  note,
  upright,
}: NamedSettings): FindingsTable | null {
  const [first] = rows;
  if (!first) return null;
  const alike = (k: number) => rows.every((row) => row[k] === first[k]);
  const columns = heads.map((_, k) => k).filter((k) => k > 0);
  const same = columns.filter(alike);
  // Things that are alike in all share one row, in which their settings have the room.
  const common = same.length === columns.length ? same.filter((k) => first[k] === '') : same;
  const shown = columns.filter((k) => !common.includes(k));
  const merged = new Map<string, { names: string[]; cells: string[] }>();
  for (const row of rows) {
    const cells = shown.map((k) => row[k] ?? '');
    const key = JSON.stringify(cells);
    const found = merged.get(key);
    if (found) found.names.push(row[0] ?? '');
    else merged.set(key, { names: [row[0] ?? ''], cells });
  }
  const said = common.flatMap((k) =>
    first[k] ? [`${inSentence(heads[k] ?? '')} ${first[k]}`] : [],
  );
  const notes = [
    ...(said.length > 0 ? [`The same for all: ${said.join('; ')}.`] : []),
    ...(note ? [note] : []),
  ];
  const [only] = merged.size === 1 ? merged.values() : [];
  if (only && upright) {
    return {
      name,
      caption,
      ...(note ? { note } : {}),
      columns: [{ head: heads[0] ?? '' }, { head: list(only.names) }],
      rows: shown.map((k, i) => [words(heads[k] ?? ''), words(only.cells[i] ?? '')]),
    };
  }
  return {
    name,
    caption,
    columns: [heads[0] ?? '', ...shown.map((k) => heads[k] ?? '')].map((head) => ({ head })),
    rows: [...merged.values()].map(({ names, cells }) => [
      words(list(names)),
      ...cells.map((cell) => words(cell === '' ? '–' : cell)),
    ]),
    ...(notes.length > 0 ? { note: notes.join(' ') } : {}),
  };
}
