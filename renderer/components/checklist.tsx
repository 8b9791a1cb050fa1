import { useEffect, useRef } from 'react';
import type { ReactNode } from 'react';
import { ActButton } from './act-button.tsx';
import type { Pressed } from './keys.ts';
import { MarkDone } from './mark-done.tsx';

export interface ChecklistItem {
  readonly id: string;
  /** In one line, while it is not its turn. */
  readonly text: string;
  /** In full, when it is its turn; the text where left out. */
  readonly content?: ReactNode;
  /** What the button says. */
  readonly label: string;
  readonly isDone: boolean;
  readonly onAct: (by: Pressed) => void;
}

interface ChecklistProps {
  readonly label: string;
  readonly items: readonly ChecklistItem[];
  readonly blocked: boolean;
}

/**
 * Things to confirm one by one, each with a press of its own.
 *
 * The focus goes from each to the next; a key held down confirms none.
 */
export function Checklist({ label, items, blocked }: ChecklistProps) {
  const next = items.find((item) => !item.isDone)?.id ?? null;
  const list = useRef<HTMLOListElement>(null);
  const before = useRef(next);
  useEffect(() => {
    if (before.current === next) return;
    before.current = next;
    list.current?.querySelector<HTMLElement>('.is-next button')?.focus();
  }, [next]);
  return (
    <ol ref={list} className="checklist" aria-label={label}>
      {items.map(({ id, text, content, label: words, isDone, onAct }) => (
        <li key={id} className={isDone ? 'is-done' : id === next ? 'is-next' : undefined}>
          <MarkDone how={isDone ? 'done' : id === next ? 'now' : 'open'} />
          {id === next ? (
            <div className="checklist-now">
              {content ?? <p>{text}</p>}
              <ActButton look="move" hotkey="Enter" blocked={blocked} onAct={onAct}>
                {words}
              </ActButton>
            </div>
          ) : (
            <span>{text}</span>
          )}
        </li>
      ))}
    </ol>
  );
}
