import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { CapacitorPart, Condition, Part } from '../kit/kit.ts';
import { computeNets } from '../kit/nets.ts';
import type { Bench, Fitted } from './bench.ts';
import { type ConditionState, openCondition, solveCondition, type SolveDepth } from './condition-model.ts';
import type { ValveHeat } from './element-context.ts';
import { asInKit, madeForVolts } from './nominal-bench.ts';
import { highMains } from './warm-up.ts';
import { nominalWorld } from './world.ts';

/** A charge below this cannot hurt, in coulombs (C): IEC 61010-1, 6.3, and IEC 60335-1, 8.1.4. */
export const harmlessCoulombs = 45e-6;

/** A capacitor with the highest voltage that it can hold. */
export interface FoundStore {
  readonly part: CapacitorPart;
  /** In any condition, at high mains, or with one thing open, in volts (V). */
  readonly volts: number;
  /** What makes it so: a condition, or "R21 open". */
  readonly when: string;
}

/** The conditions in which the amplifier is on the mains, by any way. */
export function pluggedConditions(chosen: ChosenKit): readonly Condition[] {
  return chosen.conditions
    .filter(({ supply }) => supply === 'mains' || supply === 'lamp' || supply === 'variac')
    .map((condition) => ({ ...condition, supply: 'mains' as const }));
}

/**
 * The stores of a kit: every capacitor that in any condition at high mains, warming up or settled, or
 * with one part, joint, fuse, switch or valve open, can hold more than the safe voltage and more than 45 µC.
 *
 * Looked for in the amplifier as the kit states it, and again with what was measured and fitted: what was
 * typed in may add a store, and a slip of typing takes none away.
 */
export function findStores(chosen: ChosenKit, bench: Bench, fitted: Fitted): readonly FoundStore[] {
  const own = onOwnMains(chosen, bench);
  const isStated = Object.keys({ ...fitted.measured, ...fitted.valves }).length === 0;
  const found = [...storesAs(chosen, own, asInKit), ...(isStated ? [] : storesAs(chosen, own, fitted))];
  return chosen.parts.flatMap((part): readonly FoundStore[] => {
    const [first, ...others] = found.filter((store) => store.part.id === part.id);
    if (first === undefined) return [];
    return [others.reduce((best, store) => (store.volts > best.volts ? store : best), first)];
  });
}

/**
 * The bench with its mains at the least what the transformer is made for, but for `share` of it.
 *
 * What was typed there is the builder's own figure for the same wall socket: a slip makes nothing harmless.
 */
export function onOwnMains(chosen: ChosenKit, bench: Bench, share = 1): Bench {
  const transformers = chosen.parts.filter((part) => part.kind === 'mains-transformer');
  const least = share * Math.max(0, ...transformers.map((part) => madeForVolts(chosen, part)));
  return bench.mains.volts >= least ? bench : { ...bench, mains: { ...bench.mains, volts: least } };
}

/**
 * The stores of an amplifier with these parts and valves in it.
 *
 * A capacitor that would be harmless even at the supply's peak is none. Where the circuit cannot be
 * solved, or a supply is not predicted, a capacitor counts as a store at its rated voltage.
 */
function storesAs(chosen: ChosenKit, bench: Bench, fitted: Fitted): readonly FoundStore[] {
  const capacitors = chosen.parts.filter((part): part is CapacitorPart => part.kind === 'capacitor');
  const highest = new Map<string, { volts: number; when: string }>();
  const raise = (part: CapacitorPart, volts: number, when: string): void => {
    if (volts > (highest.get(part.id)?.volts ?? 0)) highest.set(part.id, { volts, when });
  };
  const exceeds = (part: CapacitorPart, volts: number): boolean =>
    volts > chosen.safeVolts && topFarads(part, fitted) * volts > harmlessCoulombs;
  const isStore = (part: CapacitorPart): boolean => exceeds(part, highest.get(part.id)?.volts ?? 0);
  let peak = 0;
  /** Raises every capacitor to its volts there; true when these are known. No volts are above `bound`. */
  const look = (
    { kit, condition, when }: OneOpen,
    heat: ValveHeat,
    depth: SolveDepth = 'full',
    bound = Infinity,
  ): boolean => {
    const model = openCondition(kit, condition, bench, fitted, heat, depth);
    const state = solveCondition(model, nominalWorld, highMains(bench));
    peak = Math.max(peak, peakVolts(state));
    const isKnown = state.converged && Object.keys(state.supplies.notPredicted).length === 0;
    for (const part of capacitors) {
      const volts = capacitorVolts(state, part);
      // A figure that is not known counts at the rated voltage, but moves no capacitor that is a store anyway.
      if (isKnown) raise(part, volts, when);
      else if (!isStore(part) && exceeds(part, bound)) raise(part, Math.max(part.volts, volts), when);
    }
    return isKnown;
  };
  const conditions = pluggedConditions(chosen);
  const areKnown = conditions.flatMap((condition) =>
    (['rectifiers', 'hot'] as const).map((heat) =>
      look({ kit: chosen, condition, when: condition.title }, heat),
    ),
  );
  const isOpenQuestion = (part: CapacitorPart): boolean => !isStore(part) && exceeds(part, peak);
  const fullest = fullestCondition(conditions);
  if (fullest && capacitors.some(isOpenQuestion)) {
    // A supply that was never predicted bounds nothing.
    const isBounded = areKnown.every(Boolean);
    for (const open of withOneOpen(chosen, fullest)) {
      look(open, 'hot', 'upper', isBounded ? peak : Infinity);
      if (!capacitors.some(isOpenQuestion)) break;
    }
  }
  return capacitors.filter(isStore).map((part) => {
    const { volts, when } = highest.get(part.id) ?? { volts: 0, when: '' };
    return { part, volts, when };
  });
}

/** Capacitance at its upper tolerance, or as measured where that is more, in farads (F). */
export function topFarads(part: CapacitorPart, fitted: Fitted): number {
  return Math.max(fitted.measured[part.id] ?? 0, part.farads * (1 + part.tolerance.high));
}

/** Voltage across a capacitor with its ripple, sign ignored, in volts (V). */
export function capacitorVolts(state: ConditionState, part: CapacitorPart): number {
  const { wiring } = state.model.context;
  const mean = Math.abs(
    state.volts(wiring.netAt(part.between[0])) - state.volts(wiring.netAt(part.between[1])),
  );
  return state.supplies.found.reduce((volts, { supply }, index) => {
    // The mean of a pumping capacitor's alternating end is no figure of the circuit: the crest bounds it.
    if (supply.pump?.id === part.id) return Math.max(volts, supply.phases[0].emfVolts);
    const waveform = state.waveforms[index];
    if (!waveform || !supply.reservoirs.includes(part.id)) return volts;
    return Math.max(volts, mean + waveform.maximumVolts - waveform.meanVolts);
  }, mean);
}

/** Highest peak that any supply can reach, all of them stacked, in volts (V). */
function peakVolts({ supplies }: ConditionState): number {
  return supplies.found.reduce((sum, { supply }) => {
    const crest = Math.max(...supply.phases.map((phase) => phase?.emfVolts ?? 0));
    return sum + (supply.input === 'doubler' || supply.input === 'pump' ? 2 : 1) * crest;
  }, 0);
}

/** The conditions with most valves in and, of those, most switches on, so that standby is none of them. */
export function fullestConditions(conditions: readonly Condition[]): readonly Condition[] {
  const valves = ({ fitted }: Condition): number => (fitted === 'all' ? Infinity : fitted.length);
  const on = ({ switches }: Condition): number =>
    Object.values(switches).filter((position) => position === 'on').length;
  const most = Math.max(...conditions.map(valves));
  const full = conditions.filter((condition) => valves(condition) === most);
  const mostOn = Math.max(...full.map(on));
  return full.filter((condition) => on(condition) === mostOn);
}

/** The first of the fullest conditions. */
export function fullestCondition(conditions: readonly Condition[]): Condition | undefined {
  return fullestConditions(conditions)[0];
}

interface OneOpen {
  readonly kit: ChosenKit;
  readonly condition: Condition;
  readonly when: string;
}

/** Every amplifier with one thing open: a part, a valve, a joint of a lead, a fuse or switch. */
function* withOneOpen(chosen: ChosenKit, condition: Condition): Generator<OneOpen> {
  const sockets = chosen.parts.filter(({ kind }) => kind === 'valve').map(({ id }) => id);
  for (const part of chosen.parts) {
    if (part.kind === 'valve') {
      const fitted = condition.fitted === 'all' ? sockets : condition.fitted;
      const left = fitted.filter((id) => id !== part.id);
      yield { kit: chosen, condition: { ...condition, fitted: left }, when: `${part.id} out` };
    } else if (isTwoEnded(part)) {
      const parts = chosen.parts.filter((other) => other !== part);
      yield { kit: { ...chosen, parts }, condition, when: `${part.id} open` };
    }
  }
  for (const lead of chosen.leads) {
    const leads = chosen.leads.filter((other) => other !== lead);
    const { netOf, placesOf } = computeNets({ ...chosen, leads });
    yield { kit: { ...chosen, leads, netOf, placesOf }, condition, when: `${lead.id} open` };
  }
}

function isTwoEnded({ kind }: Part): boolean {
  return [
    'resistor',
    'potentiometer',
    'choke',
    'diode',
    'zener',
    'led',
    'transistor',
    'regulator',
    'output-transformer',
    'fuse',
    'switch',
  ].includes(kind);
}
