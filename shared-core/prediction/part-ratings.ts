import { elementFigures } from '../circuit/operating-point.ts';
import type { CapacitorPart, Place, ResistorPart } from '../kit/kit.ts';
import type { ConditionState } from './condition-model.ts';
import { partValue } from './element-context.ts';
import type { RatingFigure } from './prediction.ts';
import { rate, type RatedStates } from './rated-states.ts';
import { semiconductorRatings } from './semiconductor-ratings.ts';
import { nominalWorld, readWorld } from './world.ts';

/** Voltage the wrong way round that an electrolytic bears, in volts (V): common practice, no source. */
const reverseVolts = 1;

/** Resistors, potentiometers, capacitors, chokes and output transformers against their ratings. */
export function partRatings(states: RatedStates): readonly RatingFigure[] {
  const { high, warmUp } = states;
  return high.model.chosen.parts.flatMap((part): readonly RatingFigure[] => {
    switch (part.kind) {
      case 'resistor': {
        // A bleeder is hottest before the valves load the supply, a cathode resistor after.
        const [settled, warming] = [resistorWatts(high, part), resistorWatts(warmUp, part)];
        const basis = warming > settled ? 'warm-up' : 'absolute';
        return [rate(part.id, 'dissipation', 'W', Math.max(settled, warming), part.watts, basis)];
      }
      case 'potentiometer': {
        const volts = across(high, [`${part.id}.ccw`, `${part.id}.cw`]);
        return [rate(part.id, 'dissipation', 'W', volts ** 2 / part.ohms, part.watts, 'absolute')];
      }
      case 'capacitor':
        return capacitorRatings(states, part);
      case 'zener':
      case 'led':
      case 'transistor':
      case 'regulator':
        return semiconductorRatings(states, part);
      case 'choke':
        return [rate(part.id, 'current', 'A', figureOf(high, part.id, 'current'), part.maxAmps, 'absolute')];
      case 'output-transformer': {
        const amps = figureOf(high, part.id, 'primary current');
        return [rate(part.id, 'primary current', 'A', amps, part.maxPrimaryAmps, 'absolute')];
      }
      default:
        return [];
    }
  });
}

function figureOf(state: ConditionState, id: string, what: string): number {
  if (!state.solver.compiled.elementIndex.has(id)) return 0;
  return elementFigures(state.solver, id).find((figure) => figure.what === what)?.value ?? 0;
}

/** DC volts between two places, in volts (V). */
function across(state: ConditionState, [first, second]: readonly [Place, Place]): number {
  const { wiring } = state.model.context;
  return state.volts(wiring.netAt(first)) - state.volts(wiring.netAt(second));
}

/** DC and heater voltage together; behind a rectifier the rms of its pulses, in watts (W). */
function resistorWatts(state: ConditionState, part: ResistorPart): number {
  const { wiring } = state.model.context;
  const context = { ...state.model.context, world: readWorld(nominalWorld) };
  const ohms = partValue(context, part.id, part.ohms);
  if (state.supplies.absorbed.has(part.id)) return pulseSquare(state, part) * ohms;
  const nets = part.between.map((place) => wiring.netAt(place));
  const alternating = state.mains.volts(nets[0] ?? '') - state.mains.volts(nets[1] ?? '');
  return (across(state, part.between) ** 2 + alternating ** 2) / ohms;
}

/** Mean square of the pulses through a surge resistor, in ampere squared (A²). */
function pulseSquare(state: ConditionState, part: ResistorPart): number {
  const { wiring } = state.model.context;
  const nets = part.between.map((place) => wiring.netAt(place));
  let square = 0;
  state.supplies.found.forEach(({ supply, windings }, index) => {
    if (!supply.replaced.includes(part.id)) return;
    const phases = state.waveforms[index]?.phases ?? [];
    const own = phases.filter((_, phase) =>
      state.network.windings.some(
        (winding) =>
          (windings[phase] ?? []).includes(winding.id) && winding.nets.some((net) => nets.includes(net)),
      ),
    );
    // Next to no winding: it stands in the common lead and carries both phases.
    for (const { rmsAmps } of own.length > 0 ? own : phases) square += rmsAmps ** 2;
  });
  return square;
}

/** Half the ripple on top of the mean for a reservoir, in volts (V). */
function ripplePeak(state: ConditionState, part: CapacitorPart): number {
  return state.supplies.found.reduce<number>((peak, { supply }, index) => {
    const waveform = state.waveforms[index];
    if (!waveform || !supply.reservoirs.includes(part.id)) return peak;
    return Math.max(peak, waveform.maximumVolts - waveform.meanVolts);
  }, 0);
}

function capacitorRatings({ high, warmUp }: RatedStates, part: CapacitorPart): readonly RatingFigure[] {
  const settled = across(high, part.between);
  const warming = across(warmUp, part.between);
  const size = (state: ConditionState, volts: number): number => Math.abs(volts) + ripplePeak(state, part);
  const figures = [
    rate(part.id, 'voltage', 'V', size(high, settled), part.volts, 'absolute'),
    rate(part.id, 'voltage', 'V', size(warmUp, warming), part.volts, 'warm-up'),
  ];
  const lowest = Math.min(settled, warming);
  if (part.type === 'electrolytic' && lowest < -0.1 * reverseVolts) {
    figures.push(rate(part.id, 'reverse voltage', 'V', -lowest, reverseVolts, 'absolute'));
  }
  return figures;
}
