import type { SlipKind } from '../../../shared-core/faults/slip-readings.ts';
import { repairFirst } from '../../../shared-core/faults/repair.ts';
import type { Explanation, ToldCause } from '../../../shared-core/faults/explain.ts';
import type { CauseFound } from '../../../shared-core/safety/events.ts';
import { isBlocking } from '../../../shared-core/safety/lookup.ts';
import { askedAgainAfter } from '../../../shared-core/safety/safety.ts';
import type { Build } from '../../bridge/use-build.ts';

/** A cause taken along to the repair page. */
export interface ChosenCause {
  readonly faults: readonly CauseFound[];
  readonly places: readonly string[];
}

/** Most faults of one group that are named. */
export const mostNamed = 6;

/** A probability as a number: "86 %". */
export function percentWords(probability: number): string {
  const whole = Math.round(100 * probability);
  if (whole < 1) return 'less than 1\u202f%';
  return whole > 99 ? 'more than 99\u202f%' : `${whole}\u202f%`;
}

/** What to look at on the meter for a slip of measuring. */
export const meterChecks: Readonly<Record<SlipKind, string>> = {
  'leads reversed': 'Look where the red and the black lead are plugged in and where their tips are.',
  'AC and DC confused': 'Look at the function: V with a straight line is DC, with a wave AC.',
  'range or unit': 'Look at the decimal point and the unit: mV, V, kΩ or MΩ.',
  'hold is on': 'Look for H or HOLD on the display, and switch it off.',
  'neighbouring pin or tag': 'Count once more which pin or tag the red tip is on.',
  'pin counted from above': 'Pins are counted clockwise seen from below, from the gap or the key.',
  'other section or channel': 'Look whether it is the other section of the valve, or the other channel.',
  'wrong condition': 'Look at the switches and controls: is the amplifier in the condition asked for?',
  'wrong reference point': 'Look where the black lead is clipped.',
};

/** What of a cause is taken along to the repair. */
export function chosenCause({ faults, repair }: ToldCause): ChosenCause {
  return {
    faults: faults
      .slice(0, mostNamed)
      .map(({ part, kind, words, probability }) => ({ part, kind, words, probability })),
    places: repair === null ? [] : [...repair.places, ...(repair.places.length === 0 ? repair.parts : [])],
  };
}

/** Whether a reading can be taken again as things stand: live in its condition, or cold and dead. */
export function isReadableNow(
  { safety: { energy }, kit }: Pick<Build, 'safety' | 'kit'>,
  id: string,
): boolean {
  const reading = kit.readings.find((each) => each.id === id);
  if (energy.kind === 'live') return energy.mustPull === null && reading?.in === energy.condition;
  const supply = kit.conditions.find((each) => each.id === reading?.in)?.supply;
  return energy.kind === 'dead' && supply === 'unplugged';
}

/** The advice in one sentence or two; never to read again what the energy state does not allow to be read. */
export function adviceWords(
  build: Pick<Build, 'safety' | 'kit'>,
  { advice, slips, slipProbability }: Pick<Explanation, 'advice' | 'slips' | 'slipProbability'>,
): string {
  const [slip] = slips;
  const saysAgain = slip !== undefined && slipProbability > 0.5;
  if (!saysAgain || isReadableNow(build, slip.reading)) return advice;
  return `${repairFirst} Then look at the likeliest cause, or take the next measurement.`;
}

/** With a capital, at the beginning of a line. */
export function capital(words: string): string {
  return words.replace(/^./, (first) => first.toUpperCase());
}

/** The places of a repair; a part stands for all its ends, as where it is written down. */
export function repairPlaces(
  { places, parts }: Pick<NonNullable<ToldCause['repair']>, 'places' | 'parts'>,
  netOf: Readonly<Record<string, string>>,
): readonly string[] {
  if (places.length > 0) return places;
  return Object.keys(netOf).filter((place) => parts.some((part) => place.startsWith(`${part}.`)));
}

/** Readings that stand open and block: what a repair is to mend. */
export function openReadings({ safety }: Pick<Build, 'safety'>): readonly string[] {
  return Object.entries(safety.readings)
    .filter(([, { verdict, settled }]) => isBlocking(verdict) && settled === 'open')
    .map(([id]) => id);
}

/** Titles of the readings that a repair at these places asks for again: the rules' own answer. */
export function askedAgain(
  build: Pick<Build, 'safety' | 'facts'>,
  places: readonly string[],
): readonly string[] {
  const { safety, facts } = build;
  const ids = askedAgainAfter(safety, openReadings(build), places, facts);
  return ids.map((id) => facts.readings.find((each) => each.id === id)?.title ?? id);
}
