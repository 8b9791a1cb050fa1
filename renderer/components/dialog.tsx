import { useEffect, useId, useRef } from 'react';
import type { ReactNode } from 'react';

interface DialogProps {
  readonly title: string;
  readonly open: boolean;
  /** Escape and *not yet*: never confirms anything. */
  readonly onCancel: () => void;
  readonly children: ReactNode;
}

/** A native modal dialog. */
export function Dialog({ title, open, onCancel, children }: DialogProps) {
  const element = useRef<HTMLDialogElement>(null);
  const name = useId();
  useEffect(() => {
    const dialog = element.current;
    if (dialog === null) return;
    if (open && !dialog.open) dialog.showModal();
    if (!open && dialog.open) dialog.close();
  }, [open]);
  return (
    <dialog
      ref={element}
      aria-labelledby={name}
      onCancel={(event) => {
        event.preventDefault();
        onCancel();
      }}
      onClose={onCancel}
    >
      <h2 id={name}>{title}</h2>
      {open ? children : null}
    </dialog>
  );
}
