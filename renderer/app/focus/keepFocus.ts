/** What can take the focus by the keyboard, and shows. */
const FOCUSABLE =
  ':is(button, input, select, textarea, summary, a[href], [tabindex="0"]):not(:disabled)';

/** Something that had the focus: it, and where it stood. */
interface Past {
  element: HTMLElement;
  /** From its parent upwards, each with the child's place in it. */
  homes: readonly { home: Element; at: number }[];
  dialog: Element | null;
}

const REMEMBERED = 12;

/**
 * A part that draws only what is in sight brings its cursor back itself. A neighbour that took the
 * focus there would take what is typed next.
 */
const OWN = '[data-own-focus]';

const canTake = (element: HTMLElement): boolean =>
  element.isConnected && element.matches(FOCUSABLE) && element.checkVisibility();

function pastOf(element: HTMLElement): Past {
  const homes: { home: Element; at: number }[] = [];
  for (let child: Element = element; child.parentElement; child = child.parentElement) {
    const home = child.parentElement;
    homes.push({ home, at: [...home.children].indexOf(child) });
  }
  return { element, homes, dialog: element.closest('dialog') };
}

/** In the nearest home that is still there: what stands where the lost thing stood, else the last before. */
function neighbourOf({ homes }: Past): HTMLElement | null {
  for (const { home, at } of homes) {
    if (!home.isConnected || home === document.body) continue;
    const within = [...home.querySelectorAll<HTMLElement>(FOCUSABLE)].filter(canTake);
    const after = home.children[at];
    const next = within.find(
      (one) =>
        after !== undefined &&
        (after.contains(one) ||
          (after.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0),
    );
    const found = next ?? within.at(-1);
    if (found) return found;
  }
  return null;
}

/**
 * Where what has the focus goes away or can no longer be used, its neighbour gets it, and after a
 * dialog what had it before: never the page, from where the keyboard would begin anew. Gives the end.
 */
export function keepFocus(): () => void {
  let pasts: Past[] = [];
  let asked = 0;
  const remember = ({ target }: FocusEvent) => {
    if (!(target instanceof HTMLElement) || target === document.body) return;
    pasts = [pastOf(target), ...pasts.filter(({ element }) => element !== target)].slice(
      0,
      REMEMBERED,
    );
  };
  const mend = () => {
    const { activeElement } = document;
    const [last, ...earlier] = pasts;
    // What is disabled while it has the focus keeps it in name only.
    const named = activeElement instanceof HTMLElement && activeElement !== document.body;
    if (named && activeElement !== last?.element) return;
    // Who clicks on nothing, or leaves the window, has lost nothing.
    if (!last || canTake(last.element) || (named && !last.element.matches(':disabled'))) return;
    if (last.homes.some(({ home }) => home.isConnected && home.matches(OWN))) return;
    // An open dialog lays the focus itself.
    if (!last.dialog && document.querySelector('dialog[open]')) return;
    const before = last.dialog
      ? earlier.find(({ dialog, element }) => dialog !== last.dialog && canTake(element))
      : undefined;
    const opener = last.dialog ? earlier.find(({ dialog }) => dialog !== last.dialog) : undefined;
    const to = before?.element ?? neighbourOf(opener ?? last);
    to?.focus({ preventScroll: true });
  };
  // After the browser has noticed for itself that the focus is nowhere.
  const look = () => {
    cancelAnimationFrame(asked);
    asked = requestAnimationFrame(() => {
      asked = requestAnimationFrame(mend);
    });
  };
  const changes = new MutationObserver(look);
  changes.observe(document.body, {
    subtree: true,
    childList: true,
    attributes: true,
    attributeFilter: ['disabled', 'hidden', 'open'],
  });
  document.addEventListener('focusin', remember);
  return () => {
    changes.disconnect();
    cancelAnimationFrame(asked);
    document.removeEventListener('focusin', remember);
  };
}
