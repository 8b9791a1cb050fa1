import type { StorePrediction } from './prediction.ts';

/** A store's drain after one condition; that of all conditions where the last one is not known, or not on the mains. */
export function storeAfter(store: StorePrediction, condition: string | null): StorePrediction {
  const own = condition === null ? undefined : store.after?.[condition];
  return own === undefined ? store : { ...store, ...own };
}
