import { useEffect, useId, useRef } from 'react';
import type { ReactNode } from 'react';
import { useKey } from './keys.ts';
import type { Pressed } from './keys.ts';

interface ActButtonProps {
  readonly onAct: (by: Pressed) => void;
  readonly children: ReactNode;
  /** `move` is the one control that goes on; `pull` and `wrong` are the two large ones of the bar. */
  readonly look?: 'plain' | 'move' | 'pull' | 'wrong' | 'quiet';
  /** Key that does the same, written on the button. */
  readonly hotkey?: string;
  /** Not now; the button stays in reach of the keyboard and says why. */
  readonly blocked?: boolean;
  readonly why?: string | undefined;
  readonly pressed?: boolean;
  /** Takes the focus when it appears. */
  readonly takesFocus?: boolean;
}

const keyNames: Readonly<Record<string, string>> = { Enter: '⏎' };

/** A button that tells a press from a key held down: a held key confirms nothing. */
export function ActButton(props: ActButtonProps) {
  const { onAct, children, look = 'plain', hotkey, blocked = false, why, pressed } = props;
  const { takesFocus = false } = props;
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (takesFocus) button.current?.focus();
  }, [takesFocus]);
  const held = useRef(false);
  const reason = useId();
  useKey(hotkey ?? 'none', onAct, hotkey !== undefined && !blocked);
  return (
    <>
      <button
        ref={button}
        type="button"
        className={`act act-${look}`}
        aria-disabled={blocked || undefined}
        aria-describedby={blocked && why !== undefined ? reason : undefined}
        aria-keyshortcuts={hotkey}
        aria-pressed={pressed}
        onPointerDown={() => (held.current = false)}
        onKeyDown={(event) => (held.current = event.repeat)}
        onClick={() => {
          if (!blocked) onAct(held.current ? 'repeat' : 'hand');
        }}
      >
        <span>{children}</span>
        {hotkey === undefined ? null : <kbd aria-hidden="true">{keyNames[hotkey] ?? hotkey}</kbd>}
      </button>
      {blocked && why !== undefined ? (
        <span id={reason} className="act-why">
          {why}
        </span>
      ) : null}
    </>
  );
}
