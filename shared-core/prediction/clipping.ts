import type { CircuitElement } from '../circuit/circuit.ts';
import type { SmallSignal, Stimulus } from '../circuit/small-signal.ts';
import { pentode } from '../devices/pentode.ts';
import { triode } from '../devices/triode.ts';
import type { ConditionState } from './condition-model.ts';
import { signalHertz } from './predict-condition.ts';
import { pushPullOnset, type PushPullSide } from './push-pull-clipping.ts';

/** Where an output stage begins to clip. */
export type ClippingFigures =
  | {
      readonly kind: 'found';
      /** Into the load, at the onset, in watts (W). */
      readonly watts: number;
      /** Across the load, rms, in volts (V). */
      readonly outputVolts: number;
      /** At the input, rms, in volts (V); null where the input is not open to a signal. */
      readonly inputVolts: number | null;
      readonly limitedBy: 'grid reaches its cathode' | 'anode current ends' | 'anode reaches its knee';
      readonly valve: string;
    }
  | { readonly kind: 'not computed'; readonly why: string };

/** What the figures of {@link clippingOf} rest on, for whoever shows them. */
export const clippingMethod =
  'load line at 1 kHz through the operating point; the onset is the grid at its cathode or, of a single valve, the anode current at a twentieth of rest; push-pull by the composite load line with supply and bias held, to where the knee of an anode flattens the wave; fundamental by the five-point method';

/** The anode current is at its end at this share of its value at rest: common practice, no source. */
const leastCurrentShare = 0.05;

/** Steps in which the largest swing of the grid is looked for; the answer is right to a fortieth of a percent. */
const halvings = 12;

/**
 * Power at the onset of clipping, by the load line of the output stage; of push-pull see `pushPullOnset`.
 *
 * The anode sees the resistance of everything around the valve at 1 kHz; along that line through the
 * operating point the grid swings evenly to both sides until it reaches its cathode or the anode current
 * ends, with cathode and screen held where they rest. The fundamental is that of five points
 * (W. Espley, "The calculation of harmonic production in thermionic valves with resistive loads", Proc. IRE
 * 21 (1933) 1439): I₁ = (i₊₁ + i₊½ − i₋½ − i₋₁)/3.
 */
export function clippingOf(
  state: ConditionState,
  small: SmallSignal,
  input: Stimulus | null,
  plus: string,
  minus: string,
  loadOhms: number | null,
): ClippingFigures {
  const { wiring, chosen } = { wiring: state.model.context.wiring, chosen: state.model.chosen };
  if (loadOhms === null) return { kind: 'not computed', why: 'there is no load' };
  const primaries = chosen.parts.flatMap((part) =>
    part.kind === 'output-transformer'
      ? ['primary.a', 'primary.b'].map((end) => wiring.netAt(`${part.id}.${end}`))
      : [],
  );
  const valves = state.elements.filter(
    ({ device, nets }) => (device === triode || device === pentode) && primaries.includes(nets[0] ?? ''),
  );
  const [valve] = valves;
  if (!valve) return { kind: 'not computed', why: 'no valve works on an output transformer' };
  if (valves.length > 1) return pushPullClipping(state, small, input, valves, loadOhms);
  const pin = (name: string): string => valve.nets[valve.device.pins.indexOf(name as never)] ?? '';
  const stage = openStage(state, small, valve.id, pin('anode'));
  const swing = largestSwing(stage);
  if (!swing) return { kind: 'not computed', why: 'the output valve does not swing' };
  const currents = [1, 0.5, -0.5, -1].map((share) => stage.ampsAt(share * swing.volts).amps);
  const [full = 0, half = 0, lessHalf = 0, least = 0] = currents;
  const anodeVolts = (Math.abs(full + half - lessHalf - least) / 3) * stage.lineOhms;
  const fromAnode = small.transferBetween({ kind: 'net', net: pin('anode') }, plus, minus, signalHertz);
  const outputVolts = (anodeVolts * Math.hypot(...fromAnode)) / Math.SQRT2;
  const toGrid = input && small.transferBetween(input, pin('grid'), pin('cathode'), signalHertz);
  const drive = toGrid ? Math.hypot(...toGrid) : 0;
  return {
    ...{ kind: 'found', outputVolts, limitedBy: swing.limitedBy, valve: valve.id },
    watts: (outputVolts * outputVolts) / loadOhms,
    inputVolts: drive > 0 ? swing.volts / Math.SQRT2 / drive : null,
  };
}

/** The same of two sides on one push-pull transformer; all its valves, however many on a side. */
function pushPullClipping(
  state: ConditionState,
  small: SmallSignal,
  input: Stimulus | null,
  valves: readonly CircuitElement[],
  loadOhms: number,
): ClippingFigures {
  const { wiring, chosen } = { wiring: state.model.context.wiring, chosen: state.model.chosen };
  const parts = chosen.parts.filter((part) => part.kind === 'output-transformer');
  const transformer = state.elements.find(({ id }) => id === parts[0]?.id);
  if (parts.length !== 1 || !parts[0]?.pushPull || !transformer) {
    return { kind: 'not computed', why: 'only one valve, or one push-pull transformer, is computed' };
  }
  const value = (name: string): number => transformer.parameters[name] ?? 0;
  const at = (end: string): string => wiring.netAt(`${parts[0]!.id}.primary.${end}`);
  const [first, second] = (['a', 'b'] as const).map((end) => {
    const own = valves.filter(({ nets }) => nets[0] === at(end));
    return sideOf(state, small, own, at(end), value(end === 'a' ? 'firstOhms' : 'secondOhms'));
  });
  const ratio = value('ratio');
  const secondaryOhms = value('secondaryOhms');
  const onset = first && second && pushPullOnset(first, second, ratio ** 2 * (loadOhms + secondaryOhms));
  if (!onset) return { kind: 'not computed', why: 'the output valves do not swing' };
  // Twice the half's swing from anode to anode; the secondary's copper takes its share.
  const peak = ((2 * onset.halfVolts) / ratio) * (loadOhms / (loadOhms + secondaryOhms));
  const outputVolts = peak / Math.SQRT2;
  const [valve] = valves;
  const pin = (name: string): string => valve!.nets[valve!.device.pins.indexOf(name as never)] ?? '';
  const toGrid = input && small.transferBetween(input, pin('grid'), pin('cathode'), signalHertz);
  const drive = toGrid ? Math.hypot(...toGrid) : 0;
  return {
    ...{ kind: 'found', outputVolts, limitedBy: onset.limitedBy, valve: valve!.id },
    watts: (outputVolts * outputVolts) / loadOhms,
    inputVolts: drive > 0 ? onset.gridVolts / Math.SQRT2 / drive : null,
  };
}

/**
 * The valves of one side. A screen follows its anode by as much as it does in small signal: all the tap's part in
 * ultra-linear connection, hardly at all from a smoothed supply; cathodes are held where they rest.
 */
function sideOf(
  state: ConditionState,
  small: SmallSignal,
  valves: readonly CircuitElement[],
  anode: string,
  copperOhms: number,
): PushPullSide | null {
  const parts = valves.map(({ id, device, nets }) => {
    const { point, parameters } = state.solver.evaluateElement(id);
    const place = (name: string): number => device.pins.indexOf(name as never);
    const [grid, cathode, screen] = [place('grid'), place('cathode'), place('screen')];
    const net = nets[screen] ?? '';
    const follows = screen < 0 ? 0 : small.transfer({ kind: 'net', net: anode }, net, signalHertz)[0];
    const out = {
      residuals: new Float64Array(nets.length),
      derivatives: new Float64Array(nets.length ** 2),
    };
    const [rest, given] = [Float64Array.from(point), Float64Array.from(parameters)];
    // What a screen on a tap draws goes through the tap's part of the turns.
    const ampsAt = (anodeMove: number, gridMove: number): number => {
      const now = Float64Array.from(rest);
      now[0]! += anodeMove;
      now[grid]! += gridMove;
      if (screen >= 0) now[screen]! += follows * anodeMove;
      out.residuals.fill(0);
      out.derivatives.fill(0);
      device.evaluate(now, given, out);
      return out.residuals[0]! + (screen < 0 ? 0 : follows * out.residuals[screen]!);
    };
    return { anodeVolts: rest[0]! - rest[cathode]!, gridVolts: rest[grid]! - rest[cathode]!, ampsAt };
  });
  if (parts.length === 0) return null;
  const { anodeVolts } = parts[0]!;
  const ampsAt = (volts: number, move: number): number =>
    parts.reduce((sum, part) => sum + part.ampsAt(volts - anodeVolts, move), 0);
  return {
    ...{ anodeVolts, copperOhms, ampsAt, restAmps: ampsAt(anodeVolts, 0) },
    gridVolts: Math.max(...parts.map((part) => part.gridVolts)),
  };
}

interface Stage {
  /** Grid at rest to its cathode, in volts (V). */
  readonly restGridVolts: number;
  readonly restAmps: number;
  /** Resistance of everything around the anode at 1 kHz, in ohms (Ω). */
  readonly lineOhms: number;
  /** Where the load line meets the valve with its grid moved by some volts (V). */
  readonly ampsAt: (gridMove: number) => { readonly amps: number; readonly anodeVolts: number };
}

function openStage(state: ConditionState, small: SmallSignal, id: string, anode: string): Stage {
  const { device, point, parameters, stamp } = state.solver.evaluateElement(id);
  const size = device.pins.length;
  const rest = Float64Array.from(point);
  const restAmps = stamp.residuals[0] ?? 0;
  const place = (name: string): number => device.pins.indexOf(name as never);
  const [grid, cathode] = [place('grid'), place('cathode')];
  const [siemens] = small.admittanceBetween(anode, state.model.context.wiring.reference, signalHertz);
  const lineOhms = 1 / (siemens - (stamp.derivatives[0] ?? 0));
  const given = Float64Array.from(parameters);
  const out = { residuals: new Float64Array(size), derivatives: new Float64Array(size * size) };
  const valveAmps = (anodeVolts: number, gridMove: number): number => {
    const now = Float64Array.from(rest);
    now[0] = anodeVolts;
    now[grid]! += gridMove;
    out.residuals.fill(0);
    out.derivatives.fill(0);
    device.evaluate(now, given, out);
    return out.residuals[0]!;
  };
  return {
    ...{ restGridVolts: rest[grid]! - rest[cathode]!, restAmps, lineOhms },
    ampsAt: (gridMove) => {
      // The valve's current rises with its anode voltage and the line's falls: halve the way between the ends.
      let [low, high] = [rest[cathode]!, rest[0]! + lineOhms * restAmps];
      for (let round = 0; round < 60; round++) {
        const middle = (low + high) / 2;
        if (valveAmps(middle, gridMove) < restAmps + (rest[0]! - middle) / lineOhms) low = middle;
        else high = middle;
      }
      return { amps: restAmps + (rest[0]! - low) / lineOhms, anodeVolts: low - rest[cathode]! };
    },
  };
}

/** The largest even swing of the grid, and what ends it; null where the grid stands at its cathode already. */
function largestSwing(stage: Stage): {
  readonly volts: number;
  readonly limitedBy: 'grid reaches its cathode' | 'anode current ends';
} | null {
  const top = -stage.restGridVolts;
  if (!(top > 0) || !(stage.restAmps > 0)) return null;
  const flows = (volts: number): boolean => stage.ampsAt(-volts).amps >= leastCurrentShare * stage.restAmps;
  if (flows(top)) return { volts: top, limitedBy: 'grid reaches its cathode' };
  let [low, high] = [0, top];
  for (let round = 0; round < halvings; round++) {
    const middle = (low + high) / 2;
    if (flows(middle)) low = middle;
    else high = middle;
  }
  return { volts: low, limitedBy: 'anode current ends' };
}
