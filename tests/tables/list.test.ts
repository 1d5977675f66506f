import { describe, expect, it } from 'vitest';
import { textLinesOf, parseList } from '../../renderer/tables';

const cellsOf = (text: string): string[][] => {
  const parsed = parseList(text);
  if (!parsed.ok) throw new Error(parsed.problem);
  return parsed.lines.map(({ cells }) => cells);
};

describe('a typed or pasted list', () => {
  it('parts its cells at tabs, else semicolons, spaces or commas', () => {
    expect(cellsOf('a b\t1,5\nc\t2')).toEqual([
      ['a b', '1,5'],
      ['c', '2'],
    ]);
    expect(cellsOf('a b;1,5')).toEqual([['a b', '1,5']]);
    expect(cellsOf('a 1,5')).toEqual([['a', '1,5']]);
    expect(cellsOf('a, 5')).toEqual([['a', '5']]);
    expect(cellsOf('a,1.5')).toEqual([['a', '1.5']]);
    expect(cellsOf('1,5\n2')).toEqual([['1,5'], ['2']]);
  });

  it('reads quoted cells and guarded ones as every other table does', () => {
    expect(cellsOf(`"a;b";"say ""x"""\n'=c;1`)).toEqual([
      ['a;b', 'say "x"'],
      ['=c', '1'],
    ]);
  });

  it('counts empty lines, but gives none', () => {
    const parsed = parseList('\uFEFFa;1\r\n\r\nb;2\n');
    expect(parsed.ok && parsed.lines.map(({ line }) => line)).toEqual([1, 3]);
    expect(textLinesOf('\uFEFFa\r\nb\rc\nd')).toEqual(['a', 'b', 'c', 'd']);
  });

  it('names the line of a quote that is left open', () => {
    expect(parseList('a;1\n"b;2')).toMatchObject({ ok: false, line: 2 });
  });
});
