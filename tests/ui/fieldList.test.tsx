import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it } from 'vitest';
import { FieldList, type FieldOf } from '../../renderer/ui';

interface Thing {
  share: number;
  kind: string;
}

const fields: readonly FieldOf<Thing>[] = [
  { as: 'share', key: 'share', label: 'Lost', testId: 'lost', decimals: 1, highest: 0.5 },
  {
    as: 'choice',
    key: 'kind',
    label: 'Kind',
    remark: 'As worn as they are.',
    options: ['a', 'b'].map((value) => ({ value, label: value })),
  },
];

it('a list of fields shows a share in per cent, and a choice with its remark', () => {
  const drawn = renderToStaticMarkup(
    <FieldList<Thing>
      of={{ share: 0.035, kind: 'b' }}
      fields={fields}
      system="metric"
      onChange={() => undefined}
    />,
  );
  expect(drawn).toMatch(/data-testid="lost"[^>]*value="3\.5"/);
  expect(drawn).toContain('As worn as they are.');
});
