import { useState } from 'react';
import { blindTrial } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { LosingAnswer, Problem, Section, today } from '../../ui';

/** Whoever weighs and scores should not know the treatments: from here on codes are shown. */
export function BlindSection() {
  const dispatch = useDispatch();
  const [problem, setProblem] = useState<string | null>(null);
  return (
    <Section title="Blinding" testId="blinding">
      <p className="field-remark">
        Codes stand in place of treatments, and findings wait. Print the sealed key and the hanging
        list first. Lamps drawn on the rack stay in sight. Opening it takes a reason.
      </p>
      <Problem text={problem} />
      <div className="section-actions">
        <LosingAnswer
          again="Press again: it cannot be undone, only opened"
          testId="blind"
          onGive={() => {
            const done = dispatch(blindTrial, { date: today() });
            setProblem(done.ok ? null : done.reason);
          }}
        >
          Blind this trial
        </LosingAnswer>
      </div>
    </Section>
  );
}
