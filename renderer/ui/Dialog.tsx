import { useEffect, useRef, type ReactNode } from 'react';

/** A modal question or form. Escape and the backdrop's Cancel call `onClose`. */
export function Dialog(props: {
  title: string;
  children: ReactNode;
  actions: ReactNode;
  onClose: () => void;
  wide?: boolean;
  testId?: string;
}) {
  const element = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const dialog = element.current;
    if (dialog && !dialog.open) dialog.showModal();
    return () => dialog?.close();
  }, []);
  return (
    <dialog
      ref={element}
      className={props.wide ? 'dialog dialog-wide' : 'dialog'}
      aria-label={props.title}
      data-testid={props.testId}
      onCancel={(event) => {
        event.preventDefault();
        props.onClose();
      }}
    >
      <h2>{props.title}</h2>
      <div className="dialog-body">{props.children}</div>
      <footer className="dialog-actions">{props.actions}</footer>
    </dialog>
  );
}
