/** The parts of the window, as one reads them. */
const parts = [
  '.topbar',
  '.rail',
  '.stage-toolbar',
  '.rack-canvas',
  '.side',
  '.strip',
  '.help-panel',
];

const focusable =
  ':is(a[href], button, input, select, textarea, summary, [tabindex="0"]):not(:disabled)';

/** Brings the keyboard to the next part of the window that can take it, or to the one before. */
export function goToPart(step: 1 | -1): void {
  const there = parts.flatMap((part) => {
    const element = document.querySelector<HTMLElement>(part);
    const first = element?.matches(focusable)
      ? element
      : [...(element?.querySelectorAll<HTMLElement>(focusable) ?? [])].find((one) =>
          one.checkVisibility(),
        );
    return element && first ? [{ element, first }] : [];
  });
  const at = there.findIndex(({ element }) => element.contains(document.activeElement));
  const from = at < 0 && step < 0 ? 0 : at;
  there.at((from + step) % there.length)?.first.focus();
}
