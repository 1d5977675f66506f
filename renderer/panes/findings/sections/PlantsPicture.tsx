import { useCallback, useMemo, useState } from 'react';
import { unitWords } from '../../../../shared-types/trial/trial';
import type { Findings } from '../../../engine/findings';
import {
  edgeFigure,
  plantChoices,
  plantsFigure,
  plantsSummary,
  type FigureSize,
} from '../../../print/report';
import { Section, Segmented, Select } from '../../../ui';
import { percentOf } from '../../../words';
import { FigureView } from '../parts/FigureView';

/** So many ways to tell the plants apart stand side by side; more are a list. */
const MOST_SIDE_BY_SIDE = 4;

/** Every plant with the means on top: what the answers rest on, to be seen with one's own eyes. */
export function PlantsPicture({ findings }: { findings: Findings }) {
  const choices = useMemo(() => plantChoices(findings), [findings]);
  const [asked, setAsked] = useState<string | null>(null);
  const key = (of: readonly string[]) => of.join(' by ');
  const chosen = choices.find((of) => key(of) === asked) ?? choices[0];
  const draw = useCallback(
    (size: FigureSize) => (chosen ? plantsFigure(findings, size, chosen) : null),
    [findings, chosen],
  );
  if (!chosen) return <WithoutTreatments findings={findings} />;
  const options = choices.map((of) => ({ value: key(of), label: key(of) }));
  const by = { label: 'Plants by', value: key(chosen), options };
  return (
    <Section
      title={titleOf(findings, chosen)}
      actions={
        choices.length < 2 ? null : choices.length <= MOST_SIDE_BY_SIDE ? (
          <Segmented {...by} onChoose={setAsked} testId="plants-by" />
        ) : (
          <Select {...by} onCommit={setAsked} testId="plants-by" />
        )
      }
    >
      <FigureView draw={draw} testId="plants-figure" said={plantsSummary(findings, chosen)} />
    </Section>
  );
}

/** Where nothing is compared, place is what plants can be told apart by. */
function WithoutTreatments({ findings }: { findings: Findings }) {
  const draw = useCallback((size: FigureSize) => edgeFigure(findings, size), [findings]);
  if (!findings.edge) return null;
  return (
    <Section title={`Every plant by place, with means and ${percentOf(findings)} intervals`}>
      <FigureView draw={draw} testId="plants-figure" />
    </Section>
  );
}

/** What stands on top of the plants; a factor that cannot be judged has means without intervals. */
function titleOf(findings: Findings, of: readonly string[]): string {
  const { notReplicated } = findings.design;
  const alone = notReplicated.find(({ column }) => of.includes(column));
  return alone
    ? `Every plant, with the mean of each ${unitWords[alone.unit].one}`
    : `Every plant, with means and ${percentOf(findings)} intervals`;
}
