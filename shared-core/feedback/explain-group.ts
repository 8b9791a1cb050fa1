import { chooseKit } from '../kit/choose-kit.ts';
import type { Choices, Kit } from '../kit/kit.ts';
import type { Bench } from '../prediction/bench.ts';
import { nominalBench } from '../prediction/nominal-bench.ts';
import { explainFleet, type FleetExplanation } from './explain-fleet.ts';
import type { FleetGroup } from './fleet-group.ts';
import { robustMean } from './tally.ts';

/**
 * What would explain a revision's fleet, in the choice of options and on the kind of bench that most builders had.
 *
 * Deviations are measured by the band that each builder was shown, so that other mains and other meters still
 * count; what they move is taken to be the same share of the band.
 *
 * @returns Null where the kit has no such choices, or too few builds read anything.
 */
export function explainGroup(group: FleetGroup, kit: Kit): FleetExplanation | null {
  const chosen = chooseKit(kit, mostOf<Choices>(group.choices.ranked()[0]?.name) ?? {});
  if (!chosen.ok) return null;
  const nominal = nominalBench(chosen.value);
  const usual = mostOf<
    readonly [Bench['mains']['source'], Bench['meter']['input'], Bench['meter']['accuracy']]
  >(group.benches.ranked()[0]?.name);
  const bench: Bench = usual
    ? {
        ...nominal,
        mains: { ...nominal.mains, source: usual[0] },
        meter: { ...nominal.meter, input: usual[1], accuracy: usual[2] },
      }
    : nominal;
  const means = [...group.readings].flatMap(([id, { deviations }]) => {
    const mean = robustMean(deviations.values());
    return mean ? [{ id, mean: mean.mean, count: mean.count }] : [];
  });
  return explainFleet(chosen.value, bench, means);
}

/** The names are JSON of our own making. */
function mostOf<Value>(name: string | undefined): Value | null {
  return name === undefined ? null : (JSON.parse(name) as Value);
}
