/** The 97.5 % point of the standard normal distribution: two-sided 95 %. */
const sigmas95 = 1.959964;

/** A share with its interval. */
export interface Share {
  readonly count: number;
  readonly of: number;
  /** 0 to 1; null of nothing. */
  readonly share: number | null;
  readonly low: number;
  readonly high: number;
}

/**
 * A share of builds, with the interval that holds the true share with 95 % confidence.
 *
 * E. B. Wilson, "Probable Inference, the Law of Succession, and Statistical Inference", J. Am. Stat. Assoc. 22
 * (1927), the score interval without continuity correction. Good from the first record on.
 */
export function wilsonShare(count: number, of: number, sigmas = sigmas95): Share {
  if (of <= 0) return { count, of, share: null, low: 0, high: 1 };
  const share = count / of;
  const square = sigmas * sigmas;
  const centre = (share + square / (2 * of)) / (1 + square / of);
  const half = (sigmas * Math.sqrt((share * (1 - share)) / of + square / (4 * of * of))) / (1 + square / of);
  // At the ends rounding would leave a hair between the bound and 0 or 1.
  const low = count === 0 ? 0 : Math.max(0, centre - half);
  return { count, of, share, low, high: count === of ? 1 : Math.min(1, centre + half) };
}

/** A difference of two shares with its 95 % interval. */
export interface ShareDifference {
  readonly difference: number;
  readonly low: number;
  readonly high: number;
}

/**
 * How much larger the second share is than the first, with a 95 % interval.
 *
 * R. G. Newcombe, "Interval Estimation for the Difference between Independent Proportions", Statist. Med. 17
 * (1998), method 10: from the two Wilson intervals.
 */
export function shareDifference(first: Share, second: Share): ShareDifference | null {
  if (first.share === null || second.share === null) return null;
  const difference = second.share - first.share;
  return {
    difference,
    low: difference - Math.hypot(second.share - second.low, first.high - first.share),
    high: difference + Math.hypot(second.high - second.share, first.share - first.low),
  };
}
