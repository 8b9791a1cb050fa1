import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, ValvePart } from '../kit/kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import {
  type ConditionState,
  openCondition,
  plugVolts,
  solveCondition,
} from '../prediction/condition-model.ts';
import { nominalWorld } from '../prediction/world.ts';
import { filamentMiddle, type ValveType } from '../valves/valve-type.ts';
import type { HeaterFit } from './fit-report.ts';

/** How a heater's current follows its voltage, as on the mains side of the prediction: I ∝ V^0.6. */
const heaterExponent = 0.6;

/** What a place carries with a socket empty. */
export interface PlaceVolts {
  /** DC to the chassis (V). */
  readonly direct: number;
  /** Rms to the chassis (V). */
  readonly alternating: number;
}

/**
 * Conditions on the mains in which a valve sits in at least one of the sockets.
 *
 * Those without a reading are left out where others have some: nothing is read off them, and no more is asked
 * of a part than while its readings are taken.
 */
export function liveConditions(chosen: ChosenKit, sockets: readonly string[]): readonly Condition[] {
  const live = chosen.conditions.filter(
    ({ supply, fitted }) =>
      supply === 'mains' && (fitted === 'all' || sockets.some((socket) => fitted.includes(socket))),
  );
  const read = live.filter(({ id }) => chosen.readings.some((reading) => reading.in === id));
  return read.length > 0 ? read : live;
}

/** The condition that says most about a socket: most valves in, most switches on, most readings. */
export function tellingCondition(chosen: ChosenKit, conditions: readonly Condition[]): Condition | undefined {
  const weight = ({ id, fitted, switches }: Condition): readonly number[] => [
    fitted === 'all' ? Infinity : fitted.length,
    Object.values(switches).filter((position) => position === 'on').length,
    chosen.readings.filter((reading) => reading.in === id).length,
  ];
  const isMore = (one: readonly number[], other: readonly number[]): boolean => {
    const at = one.findIndex((value, index) => value !== other[index]);
    return at >= 0 && (one[at] ?? 0) > (other[at] ?? 0);
  };
  return conditions.reduce<Condition | undefined>(
    (best, each) => (best === undefined || isMore(weight(each), weight(best)) ? each : best),
    undefined,
  );
}

/**
 * What the wiring brings to each pin of a socket while that socket is empty, all others as they are.
 *
 * @returns Null for a pin where no operating point was found.
 */
export function voltsWithoutValve(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
  part: ValvePart,
): (pin: number) => PlaceVolts | null {
  const others = chosen.parts.filter(({ kind, id }) => kind === 'valve' && id !== part.id);
  const kept = others.map(({ id }) => id);
  const without = {
    ...condition,
    fitted: condition.fitted === 'all' ? kept : condition.fitted.filter((id) => id !== part.id),
  };
  const state = solveCondition(
    openCondition(chosen, without, bench, fitted),
    nominalWorld,
    plugVolts(condition, bench),
  );
  const { wiring } = state.model.context;
  return (pin) => {
    if (!state.converged) return null;
    const net = wiring.netAt(`${part.id}.${pin}`);
    return { direct: state.volts(net), alternating: Math.abs(state.mains.volts(net)) };
  };
}

/** What the heater's wires really get where the valve sits, AC and DC together. */
export function heaterIn(state: ConditionState, part: ValvePart, type: ValveType): readonly HeaterFit[] {
  const { wiring } = state.model.context;
  const wires = type.heater.elements.map((wire, index): HeaterFit => {
    const [one = 0, other = 0] = wire.pins.map((pin) => state.volts(wiring.netAt(`${part.id}.${pin}`)));
    const alternating = state.mains.heaterVolts[`${part.id}#heater${index + 1}`] ?? 0;
    const direct = state.converged ? one - other : 0;
    const volts = Math.hypot(alternating, direct);
    return {
      pins: wire.pins,
      ratedVolts: wire.volts,
      ratedAmps: wire.amps,
      volts,
      amps: wire.amps * (volts / wire.volts) ** heaterExponent,
    };
  });
  return wholeFilament(wires);
}

/** A filament is two halves in the circuit and one to the builder. */
function wholeFilament(wires: readonly HeaterFit[]): readonly HeaterFit[] {
  const [first, second] = wires;
  if (!first || !second || first.pins[1] !== filamentMiddle || second.pins[0] !== filamentMiddle)
    return wires;
  const sum = (a: number | null, b: number | null): number | null =>
    a === null || b === null ? null : a + b;
  return [
    {
      pins: [first.pins[0], second.pins[1]],
      ratedVolts: first.ratedVolts + second.ratedVolts,
      ratedAmps: first.ratedAmps,
      volts: sum(first.volts, second.volts),
      amps: first.amps,
    },
  ];
}
