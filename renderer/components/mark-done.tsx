/** How far something is, as a small shape: done, now, open, declared. */
export function MarkDone({ how }: { readonly how: 'done' | 'now' | 'open' | 'declared' }) {
  const words = { done: 'done', now: 'now', open: '', declared: 'declared' }[how];
  return (
    <span className={`mark mark-${how}`}>
      <svg viewBox="0 0 16 16" aria-hidden="true">
        {how === 'done' ? <path d="M2.5 8.5 L6.5 12.5 L13.5 3.5" /> : null}
        {how === 'now' ? <circle cx="8" cy="8" r="4.5" /> : null}
        {how === 'declared' ? <path d="M4 8 H12" /> : null}
      </svg>
      {words === '' ? null : <span className="unseen">{words}</span>}
    </span>
  );
}
