/** A source of uniform numbers in [0, 1). */
export type Random = () => number;

/**
 * A seeded source of uniform random numbers.
 *
 * The 32-bit state steps by a constant and is scrambled by two multiplications (mulberry32,
 * T. Ettinger 2017, public domain). Period 2³², which is ample for the 10⁷ draws of one prediction.
 *
 * @param seed Any integer; equal seeds give equal sequences.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/**
 * One draw of the standard normal distribution (mean 0, deviation 1).
 *
 * Polar form of G. E. P. Box, M. E. Muller, "A Note on the Generation of Random Normal Deviates",
 * Ann. Math. Statist. 29 (1958), after G. Marsaglia: no trigonometry, about 1.27 pairs per draw.
 */
export function normalDraw(random: Random): number {
  for (;;) {
    const x = 2 * random() - 1;
    const y = 2 * random() - 1;
    const square = x * x + y * y;
    if (square > 0 && square < 1) return x * Math.sqrt((-2 * Math.log(square)) / square);
  }
}

/**
 * A whole number that follows from a text, for a seed of its own per name.
 *
 * FNV-1a, 32 bits (G. Fowler, L. C. Noll, K.-P. Vo; RFC 9923).
 */
export function seedOfText(text: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193);
  }
  return hash >>> 0;
}
