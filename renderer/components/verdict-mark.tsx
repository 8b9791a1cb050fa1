import type { Verdict } from '../../shared-core/bands/verdict.ts';

/** One shape for each verdict, on a square of 20: told apart without colour. */
const shapes: Readonly<Record<Verdict, string>> = {
  'as expected': 'M3 10.5 L8 15.5 L17 5',
  borderline: 'M10 2 A8 8 0 1 0 10 18 A8 8 0 1 0 10 2 Z M10 2 A8 8 0 0 1 10 18 Z',
  'out of band': 'M10 2 L19 18 H1 Z',
  stop: 'M6.3 1 H13.7 L19 6.3 V13.7 L13.7 19 H6.3 L1 13.7 V6.3 Z M5 10 H15',
  'still warming': 'M5 2 H15 L5 18 H15 Z',
  'not predicted': 'M4 10 H16',
};

/** A verdict: its shape, then its words. */
export function VerdictMark({ verdict, words }: { readonly verdict: Verdict; readonly words?: string }) {
  return (
    <span className={`verdict verdict-${verdict.replaceAll(' ', '-')}`}>
      <svg viewBox="0 0 20 20" aria-hidden="true">
        <path d={shapes[verdict]} />
      </svg>
      <span>{words ?? verdict}</span>
    </span>
  );
}
