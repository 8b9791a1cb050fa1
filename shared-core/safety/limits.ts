/** A second look comes at least this long after its store's first, in milliseconds (ms): dielectric absorption. */
export const secondLookAfterMs = 60_000;

/** Idle time after which `dead` lapses, in milliseconds (ms). */
export const idleLapseMs = 60 * 60_000;

/** A probe that shows this much touches something, in volts (V): stray fields at 10 MΩ show less. Our own figure. */
export const probeShowsVolts = 1;

/** Wall and monotonic clock may differ by this much from one event to the next, in milliseconds (ms). */
export const clockDifferenceMs = 5_000;

/** A screen that heard nothing for this long knows nothing, in milliseconds (ms). */
export const silentScreenMs = 2_000;

/** Soldering asks for less than this on every store, in volts (V). Common practice, no source. */
export const solderVolts = 5;

/**
 * A look below this says nothing of the bleeder: charge that creeps back holds it up, in volts (V). A finding
 * blocks nothing, so this opens nothing. Our own figure.
 */
export const slowFindingVolts = 5;

/**
 * A meter on a range for the full voltage shows no less, in volts (V): 6000 counts on 600 V. Below it a look of
 * nothing is no lower than the drain.
 */
export const leastShownVolts = 0.1;

/** Ohms ask for less than this on the stores joined to the place, in volts (V). Common practice, no source. */
export const ohmsVolts = 0.5;

/** Hooks are used above this, unless hand-held is chosen, in volts (V): IEC 61010-1's DC limit. */
export const hookVolts = 60;

/** A discharge clip's resistance, in ohms (Ω), and its power, in watts (W). Common practice, no source. */
export const clipOhms = { low: 1_000, high: 10_000 } as const;
export const clipWatts = 5;

/** A probe does not move to another store faster than this, in milliseconds (ms). Our own figure. */
export const probeMoveMs = 2_000;

/** A battery shows between these parts of its marking: from nearly flat to fresh. Our own figures. */
export const batteryShare = { low: 0.7, high: 1.2 } as const;

/** A store is seen falling from at least `from` volts to at least `to`, by 3 % or more. Our own figures. */
export const falling = { fromVolts: 3, toVolts: 1, share: 0.97 } as const;

/** Earth pin to chassis with lead ohms taken off, in ohms (Ω): the rule's own figure. */
export const earthBondOhms = 0.3;

/** No sound pair of leads has more than this, in ohms (Ω). Our own figure. */
export const mostLeadOhms = 1;

/** A meter's zero may be this far off, in ohms (Ω): two steps of the lowest range of many meters. Our own figure. */
export const ohmsZero = 0.2;

/** The weakest battery that a meter can be shown to work on, in volts (V): below any cell that is sold. */
export const leastBatteryVolts = 1;

/** Mains this far from what the transformer is made for is another mains: ±10 % (IEC 60038) and room for 240 V. */
export const mainsShare = 0.15;

/** A meter less accurate than this tells no good reading from a bad one. Our own figure. */
export const coarsestMeter = 0.1;

/** The highest safe voltage a kit may state, in volts DC (V): IEC 61010-1 / 62368-1. */
export const highestSafeVolts = 60;
