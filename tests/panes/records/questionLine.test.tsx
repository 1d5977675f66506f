import { renderToString } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import {
  inOneSentence,
  QuestionLine,
  type Announcement,
} from '../../../renderer/panes/records/grid/QuestionLine';

const older = {
  kind: 'value-out-of-range',
  potId: 't1:1:1',
  measurementId: 'm2',
  about: [],
  text: '1A-A1: fresh weight 120 g is outside 0 to 50.',
} as const;

const lineOf = (said: Announcement | null) =>
  renderToString(
    <QuestionLine
      questions={[{ ...older, about: [] }]}
      elsewhere
      said={said}
      summary="All done."
      onGo={() => undefined}
      onAnswer={() => undefined}
    />,
  );

describe('the line above the grid', () => {
  it('tells why a text is refused before an older question, and asks again after it', () => {
    const refused = lineOf({ text: '1A-A2: a number is expected.', holds: true });
    expect(refused).toContain('a number is expected');
    expect(refused).not.toContain('outside 0 to 50');
    expect(lineOf(null)).toContain('outside 0 to 50');
  });

  it('offers the way to what it tells of', () => {
    const offer = { words: 'Go to run 1', act: () => undefined };
    const line = lineOf({ text: 'This label is of run 1.', holds: true, offer });
    expect(line).toContain('Go to run 1');
    expect(lineOf({ text: 'Pot 1A-A2.', holds: true })).not.toContain('button');
  });

  it('asks before it tells of what holds nobody back', () => {
    const line = lineOf({ text: 'Pot 1A-A2.', holds: false });
    expect(line).toContain('outside 0 to 50');
    expect(line).not.toContain('Pot 1A-A2.');
  });
});

it('says once what several questions about a value begin alike, whatever sign ends a word', () => {
  expect(
    inOneSentence([
      '1A-A4: fresh weight at harvest 340 g is outside 5 to 120.',
      '1A-A4: fresh weight at harvest 340 g, from 7.1 g at the start; the others have 33 g.',
    ]),
  ).toBe(
    '1A-A4: fresh weight at harvest 340 g is outside 5 to 120; from 7.1 g at the start; the others have 33 g.',
  );
  expect(inOneSentence(['1A-A4: leaves 3.5 is a count but not whole.'])).toBe(
    '1A-A4: leaves 3.5 is a count but not whole.',
  );
});
