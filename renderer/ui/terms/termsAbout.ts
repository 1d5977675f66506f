import { isGlossaryTerm, type GlossaryTerm } from '../../words';

export interface TermShown {
  readonly term: GlossaryTerm;
  readonly at: HTMLElement;
}

/** Parts of a window that hold what belongs together, the smallest first. */
const parts = '.field, summary, tr, fieldset, [role="group"], li, details, section, dialog, aside';

/**
 * The terms that the keyboard is about: of the control's own label, of what it holds, or of the
 * nearest part around it that has any.
 */
export function termsAbout(element: Element | null): readonly TermShown[] {
  if (element === null) return [];
  const labels =
    element instanceof HTMLInputElement || element instanceof HTMLSelectElement
      ? [...(element.labels ?? [])]
      : [];
  const own = termsIn([...labels, element]);
  if (own.length > 0) return own;
  for (let part = element.closest(parts); part !== null; part = above(part)) {
    const held = termsIn([part]);
    if (held.length > 0) return held;
  }
  return [];
}

const above = (part: Element) => part.parentElement?.closest(parts) ?? null;

/** Each once, as far as it is in sight, in the order of the page. */
function termsIn(elements: readonly Element[]): TermShown[] {
  const found = new Map<GlossaryTerm, HTMLElement>();
  for (const element of elements) {
    for (const at of [element, ...element.querySelectorAll('[data-term]')]) {
      const shown = shownTerm(at);
      if (shown && at.checkVisibility() && !found.has(shown.term)) found.set(shown.term, shown.at);
    }
  }
  return [...found].map(([term, at]) => ({ term, at }));
}

/** What is explained at an element, if anything is. */
export function shownTerm(element: unknown): TermShown | null {
  if (!(element instanceof HTMLElement)) return null;
  const { term = '' } = element.dataset;
  return isGlossaryTerm(term) ? { term, at: element } : null;
}
