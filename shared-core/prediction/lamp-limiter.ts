import { lampAmps } from '../devices/lamp.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition } from '../kit/kit.ts';
import type { Bench, Fitted } from './bench.ts';
import { openCondition, solveCondition } from './condition-model.ts';
import type { MainsSolution } from './mains-network.ts';
import type { LampFigures } from './prediction.ts';
import { nominalWorld } from './world.ts';

/** Below this part of its rated power a lamp looks dark, from the other on bright: common practice, no source. */
const darkShare = 0.05;
const brightShare = 0.5;

/** The answer is right to this share of the mains. */
const settled = 1e-4;
const mostRounds = 30;

/**
 * What lamp and amplifier share of the mains, once everything has settled.
 *
 * The lamp stands in the lead of all primaries, by its law of tungsten (I ∝ V^0.55); at each voltage that is left
 * for the amplifier the whole condition is solved, heaters as filaments following it. Lamp and amplifier count as
 * resistances of their rms current, pulses included: right for *short or no short*, and not for judging readings.
 * Magnetising currents are left out.
 *
 * @param bench Its mains is what the lamp is rated for.
 * @returns Null where the condition has no lamp or nothing is on the mains.
 */
export function lampLimiter(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
): LampFigures | null {
  const watts = condition.lampWatts ?? bench.lampWatts;
  if (condition.supply !== 'lamp' || watts === null) return null;
  const mainsVolts = bench.mains.volts;
  // A circuit of its own for each voltage: a rectifier valve whose heater starves is no supply any more.
  const mainsAt = (volts: number): MainsSolution =>
    solveCondition(openCondition(chosen, condition, bench, fitted, 'hot'), nominalWorld, volts).mains;
  const drawnAt = (volts: number): number => {
    const mains = mainsAt(volts);
    return Object.values(mains.primaryAmps).reduce((sum, amps) => sum + amps, 0);
  };
  // The more is left for the amplifier, the more it draws and the less the lamp passes.
  const amplifierVolts = whereFalls(
    (volts) => lampAmps(mainsVolts - volts, mainsVolts, watts) - drawnAt(volts),
    mainsVolts,
  );
  const lampVolts = mainsVolts - amplifierVolts;
  const amps = lampAmps(lampVolts, mainsVolts, watts);
  const powerShare = (lampVolts * amps) / watts;
  const mains = mainsAt(amplifierVolts);
  return {
    ...{ watts, lampVolts, amplifierVolts, amps, powerShare, heaterVolts: mains.heaterVolts },
    looks: powerShare < darkShare ? 'dark' : powerShare < brightShare ? 'dim' : 'bright',
  };
}

/** Where a function that falls from above zero to below it crosses, by the Illinois form of the false position. */
function whereFalls(falling: (x: number) => number, top: number): number {
  let [low, high] = [0, top];
  let [atLow, atHigh] = [falling(low), falling(high)];
  let middle = high;
  for (let round = 0; round < mostRounds && high - low > settled * top; round++) {
    const last = middle;
    middle = (low * atHigh - high * atLow) / (atHigh - atLow);
    if (Math.abs(middle - last) < 0.1 * settled * top) break;
    const at = falling(middle);
    if (at > 0) {
      [low, atLow, atHigh] = [middle, at, atHigh / 2];
    } else {
      [high, atHigh, atLow] = [middle, at, atLow / 2];
    }
  }
  return middle;
}
