import type { Place } from '../kit/kit.ts';
import type { SafetyFacts } from './facts.ts';

/** The earth pin of the inlet: what is soldered there is what the earth bond proves. */
export function isEarthPin(place: Place): boolean {
  return /^(inlet|X\d+[A-Z]?)\.earth$/.test(place);
}

/**
 * Whether work at a place is work on the mains side, whatever the builder calls it: the earth pin, and every net
 * that a mains-side step solders or a mains proof measures.
 */
export function isMainsPlace(place: Place, facts: SafetyFacts): boolean {
  if (isEarthPin(place)) return true;
  const { netOf, steps, readings } = facts;
  const net = netOf[place];
  const grounds = ['gnd', 'chassis'].flatMap((each) => [each, netOf[each] ?? each]);
  if (net === undefined || grounds.includes(net)) return false;
  return (
    steps.some((step) => step.mainsSide && step.nets.includes(net)) ||
    readings.some(
      ({ proves, at, against }) =>
        (proves === 'line-apart' || proves === 'neutral-apart' || proves === 'primary') &&
        [at, against].some((each) => netOf[each] === net),
    )
  );
}
