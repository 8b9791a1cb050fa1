import type { MeterSetup } from './events.ts';

/** Same leads, function and range. */
export function isSameSetup(one: MeterSetup, other: MeterSetup): boolean {
  return one.function === other.function && one.range === other.range && one.leads === other.leads;
}
