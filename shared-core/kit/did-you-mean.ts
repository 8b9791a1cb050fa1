/**
 * The known word nearest to a mistyped one, if it is near enough to be meant.
 *
 * Near enough: fewer edits than a third of the word's letters, one at least.
 */
export function nearestWord(word: string, known: readonly string[]): string | null {
  if (word.length > 60) return null;
  const limit = Math.max(1, Math.floor(word.length / 3));
  let best: string | null = null;
  let bestDistance = limit + 1;
  for (const candidate of known.slice(0, 2000)) {
    if (Math.abs(candidate.length - word.length) >= bestDistance) continue;
    const distance = editDistance(word.toLowerCase(), candidate.toLowerCase());
    if (distance < bestDistance) [best, bestDistance] = [candidate, distance];
  }
  return best;
}

/** A hint that names the nearest known word, or lists the first few. */
export function didYouMean(word: string, known: readonly string[]): string {
  // A part that is written once for its channels has the channel in its name.
  const perChannel = /^[A-Z]/.test(word) ? known.filter((name) => name.startsWith(`${word}-`)) : [];
  if (perChannel.length > 0) return `Name the channel: ${perChannel.join(' or ')}.`;
  const nearest = nearestWord(word, known);
  if (nearest !== null) return `Did you mean "${nearest}"?`;
  if (known.length === 0) return 'There is none of that kind in this kit.';
  const listed = known.slice(0, 8).join(', ');
  return `Known here: ${listed}${known.length > 8 ? ' …' : ''}.`;
}

/** Edits to turn one word into another; an exchange of neighbours counts as one (Damerau 1964). */
function editDistance(from: string, to: string): number {
  let before: number[] = [];
  let last = Array.from({ length: to.length + 1 }, (_, j) => j);
  for (let i = 1; i <= from.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= to.length; j += 1) {
      const same = from[i - 1] === to[j - 1] ? 0 : 1;
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      const crossed = i > 1 && j > 1 && from[i - 1] === to[j - 2] && from[i - 2] === to[j - 1];
      if (crossed) cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row.push(cost);
    }
    [before, last] = [last, row];
  }
  return last[to.length] ?? 0;
}
