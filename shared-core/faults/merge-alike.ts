import type { ModelledFault } from './fault-model.ts';

/** Faults nearer than this in everything measurable are one, in standard deviations. */
const alikeDistance = 0.5;

/**
 * Joins faults that nothing measurable tells apart: one of two resistors side by side open, either heater lead.
 *
 * The bound is the squared difference of each reading over the variance that it shares with no other, which the
 * Mahalanobis distance never exceeds. The first of each set keeps its circuit; the chances add up.
 */
export function mergeAlike(faults: readonly ModelledFault[]): readonly ModelledFault[] {
  const sets: ModelledFault[][] = [];
  for (const fault of faults) {
    const home = sets.find(([first]) => first !== undefined && areAlike(first, fault));
    if (home) home.push(fault);
    else sets.push([fault]);
  }
  return sets.flatMap(([first, ...others]) => {
    if (!first) return [];
    const prior = others.reduce((sum, other) => sum + other.prior, first.prior);
    const names = [first, ...others].flatMap(({ fault }) => fault.faults);
    return [{ ...first, prior, fault: { ...first.fault, faults: names } }];
  });
}

function areAlike(one: ModelledFault, other: ModelledFault): boolean {
  let square = 0;
  for (let place = 0; place < one.values.length; place += 1) {
    const [first, second] = [one.values[place]!, other.values[place]!];
    if (Object.is(first, second)) continue;
    if (!Number.isFinite(first) || !Number.isFinite(second)) return false;
    square += (first - second) ** 2 / Math.max(one.own[place]!, 1e-30);
    if (square > alikeDistance ** 2) return false;
  }
  return true;
}
