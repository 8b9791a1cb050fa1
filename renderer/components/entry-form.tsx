import { useEffect, useRef } from 'react';
import type { ReactNode } from 'react';
import { ActButton } from './act-button.tsx';
import type { Pressed } from './keys.ts';

interface EntryFormProps {
  readonly onEnter: (by: Pressed) => void;
  readonly isReady: boolean;
  readonly children: ReactNode;
}

/** Fields that are entered with ⏎; a ⏎ held down passes itself on as such. */
export function EntryForm({ onEnter, isReady, children }: EntryFormProps) {
  const form = useRef<HTMLFormElement>(null);
  const held = useRef(false);
  useEffect(() => {
    const element = form.current;
    const note = (event: KeyboardEvent): void => {
      held.current = event.repeat;
    };
    element?.addEventListener('keydown', note, true);
    return () => element?.removeEventListener('keydown', note, true);
  }, []);
  return (
    <form
      ref={form}
      className="entry"
      onSubmit={(event) => {
        event.preventDefault();
        if (isReady) onEnter(held.current ? 'repeat' : 'hand');
      }}
    >
      {children}
      <ActButton look="move" hotkey="Enter" blocked={!isReady} onAct={onEnter}>
        Enter
      </ActButton>
      <input type="submit" hidden />
    </form>
  );
}
