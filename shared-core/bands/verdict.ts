/** The words for a reading, from good to dangerous. */
export type Verdict =
  'as expected' | 'borderline' | 'out of band' | 'stop' | 'still warming' | 'not predicted';

/** What the builder typed, understood: a value in SI units, or OL. */
export type MeterEntry = { readonly kind: 'value'; readonly value: number } | { readonly kind: 'overload' };
