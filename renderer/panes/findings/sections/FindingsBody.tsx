import type { ReactNode } from 'react';
import { sentenceGroups, unbroken, type Findings } from '../../../engine/findings';
import { plural } from '../../../words';
import { AnalysisSection } from './AnalysisSection';
import { AnswerCards } from './AnswerCards';
import { ChecksSection } from './ChecksSection';
import { ComparisonsSection } from './ComparisonsSection';
import { FoldedPart } from '../parts/FoldedPart';
import { PlantsPicture } from './PlantsPicture';
import { PositionSection } from './PositionSection';

/** The answers and every plant; all else in folds below, each with a line of what it says. */
export function FindingsBody(props: {
  findings: Findings;
  editable: boolean;
  choice?: ReactNode;
  growth?: ReactNode;
  randomisation: ReactNode;
}) {
  const { findings, editable } = props;
  const groups = sentenceGroups(findings);
  return (
    <>
      <div data-testid="findings-words">
        <AnswerCards findings={findings} />
        <PlantsPicture findings={findings} />
        {props.choice}
        <FoldedPart
          title="In words"
          said={`${plural(groups.flat().length, 'sentence')} with their figures`}
          name="sentences"
        >
          <div className="findings-words">
            {groups.map((group) => (
              <ul key={group[0]}>
                {group.map((text) => (
                  <li key={text}>{unbroken(text)}</li>
                ))}
              </ul>
            ))}
          </div>
        </FoldedPart>
      </div>
      <PositionSection findings={findings} />
      {props.growth}
      <ComparisonsSection findings={findings} editable={editable} />
      <AnalysisSection findings={findings} />
      {props.randomisation}
      <ChecksSection findings={findings} editable={editable} />
    </>
  );
}
