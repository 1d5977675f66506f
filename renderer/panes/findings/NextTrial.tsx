import { useMemo, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { carriedSpreadOf } from '../../derive';
import { nextTrialFrom } from '../../document/nextTrial';
import { learntWords, type Findings } from '../../engine/findings';
import { TextArea } from '../../ui';
import { figures } from '../../words';
import { StartNextTrial } from '../shared/StartNextTrial';
import { FoldedPart } from './parts/FoldedPart';

/** The trial after this one: same rack and design, with the spread found and what was learnt. */
export function NextTrial({ plan, findings }: { plan: Plan; findings: Findings }) {
  const spread = useMemo(() => carriedSpreadOf(findings), [findings]);
  const [typed, setTyped] = useState<{ of: Findings; text: string } | null>(null);
  const learnt = typed?.of === findings ? typed.text : learntWords(findings, plan.title);
  const { unit } = findings.response;
  const said =
    'missing' in spread
      ? `How much equal plants differ is not carried over. ${spread.missing}`
      : `What was found, ${figures(spread.plantSd)} ${unit} between equal plants${
          spread.unitSd === undefined ? '' : ` and ${figures(spread.unitSd)} ${unit} between units`
        }, tells its chance of finding a difference.`;
  return (
    <FoldedPart
      title="The next trial"
      said="starts from this one: rack, design, how plants differ, what was learnt"
      name="next"
    >
      <TextArea
        label="What was learnt, for the notes of the next plan"
        value={learnt}
        rows={4}
        testId="learnt"
        onCommit={(text) => setTyped({ of: findings, text })}
      />
      <StartNextTrial
        stage="trial"
        make={() => nextTrialFrom(plan, { learnt, spread: 'missing' in spread ? null : spread })}
      >
        It takes over rack, light, water and design, and leaves draw and records behind. {said} This
        plan keeps its records.
      </StartNextTrial>
    </FoldedPart>
  );
}
