import type { ChosenKit } from './chosen-kit.ts';
import { mainsNets } from './conduction.ts';
import type { CapacitorPart, Place } from './kit.ts';
import { primaryEndsOf } from './transformer-ends.ts';

/** A capacitor that must be taken for a store until a computation shows otherwise. */
export interface StoreCandidate {
  readonly part: CapacitorPart;
  readonly plus: Place;
  readonly minus: Place;
  /** The most that it can be charged to by this rule, in volts (V). */
  readonly volts: number;
}

/** IEC 61010-1, 6.3.1 c: the charge that is still harmless, in coulombs (C). */
const HARMLESS_CHARGE = 45e-6;

/** High mains (IEC 60038: +10 %) times what an unloaded winding gives above its rating (common practice, no source). */
const UNLOADED = 1.1 * 1.25;

/**
 * The capacitors that can hold more than the safe voltage and more than 45 µC.
 *
 * A conservative rule on structure alone: a capacitor can be charged to its rating, but not beyond the peaks of
 * all windings in series, or the mains peak on the mains side. The engine's own figures refine it; they may take
 * a store off the list only with every part, joint, fuse, switch and valve open in turn.
 */
export function stores(chosen: ChosenKit): readonly StoreCandidate[] {
  const mains = mainsNets(chosen);
  const transformers = chosen.parts.filter((part) => part.kind === 'mains-transformer');
  const windings = transformers.flatMap((part) => part.windings);
  const windingPeaks = windings.reduce((sum, { volts, centreTapped }) => {
    return sum + volts * (centreTapped ? 2 : 1) * Math.SQRT2 * UNLOADED;
  }, 0);
  const primaryVolts = Math.max(
    0,
    ...transformers.flatMap((part) => primaryEndsOf(part).map(({ volts }) => volts)),
  );
  const mainsPeak = primaryVolts * Math.SQRT2 * 1.1;
  return chosen.parts.flatMap((part): StoreCandidate[] => {
    if (part.kind !== 'capacitor') return [];
    const [plus, minus] = part.between;
    const isOnMains = mains.has(chosen.netOf[plus] ?? plus) || mains.has(chosen.netOf[minus] ?? minus);
    // A mains capacitor's rating is in volts AC: its peak is what it holds.
    const volts = isOnMains ? mainsPeak : Math.min(part.volts, windingPeaks);
    const charge = part.farads * (1 + part.tolerance.high) * volts;
    return volts > chosen.safeVolts && charge > HARMLESS_CHARGE ? [{ part, plus, minus, volts }] : [];
  });
}

/** Above this a store belongs to the high tension, in volts DC (V): the limit of touch, IEC 62368-1 ES1. */
const HIGH_TENSION = 60;

/** The stores of the high-tension supply: electrolytic or joined to ground, and rated above what may be touched. */
export function highTensionStores(chosen: ChosenKit): readonly StoreCandidate[] {
  const ground = [chosen.netOf['gnd'], chosen.netOf['chassis']];
  const mains = mainsNets(chosen);
  return stores(chosen).filter(({ part, plus, minus, volts }) => {
    const nets = [chosen.netOf[plus] ?? plus, chosen.netOf[minus] ?? minus];
    if (volts <= HIGH_TENSION || nets.some((net) => mains.has(net))) return false;
    return part.type === 'electrolytic' || nets.some((net) => ground.includes(net));
  });
}
