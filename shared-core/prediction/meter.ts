import { type Bench, type OhmsTest, plainOhmsTest } from './bench.ts';

/**
 * Ranges that a multimeter with a pointer commonly offers, in volts (V): common practice, no source.
 */
const pointerRanges = [2.5, 10, 50, 250, 500, 1000, 2500];

/** Share of full scale up to which a builder stays on a range. */
const comfortableShare = 0.95;

/** Highest resistance the meter shows before OL, in ohms (Ω): common practice, no source. */
export const topRangeOhms = 40e6;

/** Full scales of the ohms ranges, in ohms (Ω). */
const ohmsRanges = [400, 4e3, 40e3, 400e3, 4e6, topRangeOhms];

/**
 * What the voltmeter puts across the circuit.
 *
 * @param expectedVolts Size of the reading, in volts (V): chooses the range a builder would choose.
 * @returns Input resistance, in ohms (Ω).
 */
export function meterOhms(meter: Bench['meter'], expectedVolts: number): number {
  if (meter.input.kind === 'fixed') return meter.input.ohms;
  const size = Math.abs(expectedVolts);
  const range = pointerRanges.find((limit) => size <= limit * comfortableShare) ?? 2500;
  return meter.input.ohmsPerVolt * range;
}

/** One ohms range: its full scale, in ohms (Ω), and its test current, in amperes (A). */
export interface OhmsRange {
  readonly fullScale: number;
  readonly amps: number;
}

/** The ohms ranges of a meter, lowest first. */
export function ohmsTests({ volts }: OhmsTest = plainOhmsTest): readonly OhmsRange[] {
  return ohmsRanges.map((fullScale) => ({ fullScale, amps: volts / fullScale }));
}

/** Voltage between the probes at a resistance that the meter ranges to by itself, in volts (V). */
export function testVolts(ohms: number, test: OhmsTest): number {
  const range = ohmsTests(test).find(({ fullScale }) => ohms <= fullScale);
  return range ? range.amps * ohms : test.volts;
}
