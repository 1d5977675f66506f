import { useKept, usePlanStore, useSession } from '../../store/context';
import { Button } from '../../ui';
import { EXAMPLE_SHOWN } from '../exampleShown';
import { examples } from '../examples';

/** What the open example shows, in three steps; closed it waits as a button in the same place. */
export function ExampleSteps() {
  const [shown, show] = useKept(EXAMPLE_SHOWN);
  const goTo = useSession((s) => s.goTo);
  const example = examples.find(({ name }) => name === shown?.name);
  const copyId = usePlanStore((s) => s.copyId);
  if (!shown || !example || shown.copyId !== copyId) return null;
  if (!shown.open) {
    return (
      <div className="example-steps is-closed">
        <Button
          tone="quiet"
          data-testid="example-again"
          onClick={() => show({ ...shown, open: true })}
        >
          What this example shows
        </Button>
      </div>
    );
  }
  const go = (step: number) => {
    const next = example.steps[step];
    if (!next) return;
    show({ ...shown, step });
    goTo(next.stage);
  };
  return (
    <section className="example-steps" aria-label="What this example shows">
      <div className="example-numbers">
        {example.steps.map(({ says }, i) => (
          <Button
            key={says}
            pressed={i === shown.step}
            aria-label={`Step ${i + 1} of 3`}
            data-testid={`example-step-${i + 1}`}
            onClick={() => go(i)}
          >
            {i + 1}
          </Button>
        ))}
      </div>
      <p aria-live="polite" data-testid="example-says">
        {example.steps[shown.step]?.says}
      </p>
      <Button
        tone="quiet"
        data-testid="example-close"
        onClick={() => show({ ...shown, open: false })}
      >
        Close
      </Button>
    </section>
  );
}
