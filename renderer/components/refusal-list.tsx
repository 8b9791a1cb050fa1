import type { ReactNode } from 'react';
import type { Refusal } from '../../shared-core/safety/refusal.ts';

interface RefusalListProps {
  readonly refusals: readonly Refusal[];
  /** At most this many are spelt out. */
  readonly most?: number;
  /** A control that helps with one of them. */
  readonly help?: (refusal: Refusal) => ReactNode;
}

/** Why something is not allowed, in the rules' own words, each with what to do. */
export function RefusalList({ refusals, most = 6, help }: RefusalListProps) {
  if (refusals.length === 0) return null;
  const shown = refusals.slice(0, most);
  const rest = refusals.length - shown.length;
  return (
    <ul className="refusals">
      {shown.map((refusal) => (
        <li key={`${refusal.code} ${refusal.subject ?? ''} ${refusal.message}`}>
          <strong>{refusal.message}</strong> {refusal.hint} {help?.(refusal)}
        </li>
      ))}
      {rest > 0 ? <li>and {rest} more</li> : null}
    </ul>
  );
}
