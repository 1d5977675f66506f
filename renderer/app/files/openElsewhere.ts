import type { FileRef, Host } from '../../host/host';
import type { PlanStore } from '../../store/planStore';

/**
 * Tells the host which file is open, and says it where another window has the same one open.
 * Returns the end of it.
 */
export function tellOpenElsewhere(
  store: PlanStore,
  host: Pick<Host, 'holdFile'>,
  say: (problem: string) => void,
): () => void {
  let shown: string | null = null;
  const follow = (ref: FileRef | null) => {
    if ((ref?.key ?? null) === shown) return;
    shown = ref?.key ?? null;
    host.holdFile(ref).then(
      (alone) => {
        if (alone || ref === null || ref.key !== shown) return;
        say(
          `“${ref.name}” is open in another window too. Go on in one of them; ` +
            'saving asks where the file has changed meanwhile.',
        );
      },
      // Not to know it harms nothing: saving compares anyway.
      () => undefined,
    );
  };
  follow(store.getState().fileRef);
  return store.subscribe(({ fileRef }) => follow(fileRef));
}
