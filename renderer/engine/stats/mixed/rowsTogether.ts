/**
 * Rows that share a code of any of the lists, directly or through others: sets in the order of their
 * first rows.
 */
export function rowsTogether(codes: readonly Int32Array[], n: number): Int32Array[] {
  const parent = Int32Array.from({ length: n }, (_, i) => i);
  const root = (i: number): number => {
    let at = i;
    while (parent[at] !== at) at = parent[at] ?? at;
    return at;
  };
  for (const own of codes) {
    const first = new Map<number, number>();
    own.forEach((code, i) => {
      const home = first.get(code);
      if (home === undefined) first.set(code, i);
      else parent[root(i)] = root(home);
    });
  }
  const lists = new Map<number, number[]>();
  for (let i = 0; i < n; i++) {
    const home = root(i);
    const list = lists.get(home);
    if (list) list.push(i);
    else lists.set(home, [i]);
  }
  return [...lists.values()].map((list) => Int32Array.from(list));
}
