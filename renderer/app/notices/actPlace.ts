/** Where an act was tried: beside a control, or at the pointer on the rack. */
export interface ActPlace {
  left: number;
  top: number;
  bottom: number;
  /** Has the focus back afterwards; null: nothing has it. */
  element: HTMLElement | null;
}

let pointer: { x: number; y: number } | null = null;
let lastFocused: HTMLElement | null = null;
let pressed: HTMLElement | null = null;

/** Whether an element was pressed last, by mouse or key. */
export const wasPressed = (element: HTMLElement): boolean => element === pressed;

/** Keeps in mind where the pointer is, until a key is pressed, what has the focus and what was pressed. */
export function watchPointer(): () => void {
  const onPointer = ({ clientX, clientY }: PointerEvent) => {
    pointer = { x: clientX, y: clientY };
  };
  const onKey = () => {
    pointer = null;
  };
  const onFocus = ({ target }: FocusEvent) => {
    if (target instanceof HTMLElement) lastFocused = target;
  };
  const onClick = ({ target }: MouseEvent) => {
    pressed = target instanceof Element ? target.closest('button') : null;
  };
  window.addEventListener('click', onClick, true);
  window.addEventListener('pointerdown', onPointer, true);
  window.addEventListener('pointermove', onPointer, true);
  window.addEventListener('pointerup', onPointer, true);
  window.addEventListener('keydown', onKey, true);
  window.addEventListener('focusin', onFocus, true);
  return () => {
    window.removeEventListener('click', onClick, true);
    window.removeEventListener('pointerdown', onPointer, true);
    window.removeEventListener('pointermove', onPointer, true);
    window.removeEventListener('pointerup', onPointer, true);
    window.removeEventListener('keydown', onKey, true);
    window.removeEventListener('focusin', onFocus, true);
  };
}

/** Asked while the act is being refused. */
export function placeOfAct(): ActPlace {
  const { activeElement } = document;
  // A field that is being left has lost the focus already, and nothing else has it yet.
  const active =
    activeElement instanceof HTMLElement && activeElement !== document.body
      ? activeElement
      : lastFocused?.isConnected
        ? lastFocused
        : null;
  const onRack = active?.getAttribute('role') === 'application';
  if (active && !onRack) {
    const { left, top, bottom } = active.getBoundingClientRect();
    return { left, top, bottom, element: active };
  }
  if (pointer) {
    return { left: pointer.x + 12, top: pointer.y, bottom: pointer.y + 12, element: active };
  }
  const box = active?.getBoundingClientRect();
  // What was pressed is gone: above the strip, where no stage or tool stands.
  const [left, top] = box
    ? [box.left + 24, box.top + 24]
    : [window.innerWidth / 4, window.innerHeight - 40];
  return { left, top, bottom: top, element: active };
}
