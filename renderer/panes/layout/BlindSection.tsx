import { blindTrial } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { LosingAnswer, Section, today } from '../../ui';

/** Whoever weighs and scores should not know the treatments: from here on codes are shown. */
export function BlindSection() {
  const dispatch = useDispatch();
  return (
    <Section title="Blinding" testId="blinding">
      <p className="field-remark">
        Blinded, rack, pages and tables show codes in place of treatments, and findings wait. Print
        the sealed key and the hanging list first. Opening it takes a reason, which the report
        prints.
      </p>
      <div className="section-actions">
        <LosingAnswer
          again="Press again: it cannot be undone, only opened"
          testId="blind"
          onGive={() => dispatch(blindTrial, { date: today() })}
        >
          Blind this trial
        </LosingAnswer>
      </div>
    </Section>
  );
}
