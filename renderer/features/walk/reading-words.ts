import type { ReadingPrediction } from '../../../shared-core/prediction/prediction.ts';
import type { SafetyState } from '../../../shared-core/safety/energy-state.ts';
import type { StepFacts } from '../../../shared-core/safety/facts.ts';
import { isPassedOrAccepted } from '../../../shared-core/safety/lookup.ts';
import { isReadAfterSoak } from '../../../shared-core/safety/soak.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';

/**
 * The reading to take now: the first of the step that is not settled.
 *
 * After a soak, the first that was not taken again since.
 */
export function nextReading(
  readings: readonly string[],
  safety: SafetyState,
  soak: StepFacts | null = null,
): string | null {
  const isTaken = (id: string): boolean =>
    soak === null ? isPassedOrAccepted(id, safety) : isReadAfterSoak(soak, id, safety);
  return readings.find((id) => !isTaken(id)) ?? null;
}

/** What a good reading says: the expectation in words, once it may be shown. */
export function bandWords({ predicted, low, high, unit, why }: ReadingPrediction): string {
  if (predicted === 'overload') return 'OL is expected.';
  if (predicted === 'none') return why ?? 'Nothing is predicted here.';
  if (low === null && high !== null) return `Below ${formatQuantity(high, unit)} is expected.`;
  if (high === null && low !== null) return `Above ${formatQuantity(low, unit)} is expected.`;
  return `${formatQuantity(low ?? 0, unit)} to ${formatQuantity(high ?? 0, unit)} is expected.`;
}

/** The value lies in the band by itself. */
export function isInsideBand({ low, high }: Pick<ReadingPrediction, 'low' | 'high'>, value: number): boolean {
  return (low === null || value >= low) && (high === null || value <= high);
}
