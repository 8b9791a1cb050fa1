import { elementFigures } from '../circuit/operating-point.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, ValvePart } from '../kit/kit.ts';
import { joinedWith } from '../valves/cathode-pins.ts';
import type { ValveType } from '../valves/valve-type.ts';
import type { Fitted } from './bench.ts';
import type { ConditionState } from './condition-model.ts';
import { partValue } from './element-context.ts';
import type { RatingFigure } from './prediction.ts';
import { rate, type RatedStates } from './rated-states.ts';
import { sectionName, valveInSocket } from './valve-elements.ts';
import { nominalWorld, readWorld } from './world.ts';

/** A dark stabiliser is shown this far past its lower limit: a share of nothing has no percentage. */
const darkShare = 0.01;

/** Whether a gas stabiliser sits in any socket of a condition. */
export function hasStabiliser(chosen: ChosenKit, condition: Condition, fitted: Fitted): boolean {
  return chosen.parts.some(
    (part) => part.kind === 'valve' && valveInSocket({ chosen, condition, fitted }, part)?.stabiliser,
  );
}

/**
 * Currents of every gas stabiliser: most at high mains, least at the lowest, and what it takes while nothing else
 * is warm; the capacitance across it, which would make it an oscillator.
 */
export function stabiliserRatings(states: RatedStates): readonly RatingFigure[] {
  const { chosen, context } = states.nominal.model;
  return chosen.parts.flatMap((part): readonly RatingFigure[] => {
    if (part.kind !== 'valve') return [];
    const type = valveInSocket(context, part);
    const limits = type?.stabiliser;
    if (!type || !limits) return [];
    const [least, most] = limits.amps;
    const lowest = ampsOf(states.low ?? states.nominal, part, type);
    return [
      rate(part.id, 'most stabiliser current', 'A', ampsOf(states.high, part, type), most, 'absolute'),
      {
        ...{ part: part.id, what: 'least stabiliser current', unit: 'A', value: lowest, limit: least },
        percent: 100 / Math.max(darkShare, lowest / least),
        basis: 'absolute',
      },
      rate(
        part.id,
        'stabiliser current while the valves warm up',
        'A',
        ampsOf(states.warmUp, part, type),
        limits.startAmps,
        'warm-up',
      ),
      rate(
        part.id,
        'capacitance across it',
        'F',
        faradsAcross(states, part, type),
        limits.maxFarads,
        'absolute',
      ),
    ];
  });
}

function ampsOf(state: ConditionState, part: ValvePart, type: ValveType): number {
  const section = type.sections[0];
  const name = section ? sectionName(part, section) : '';
  if (!state.solver.compiled.elementIndex.has(name)) return 0;
  return elementFigures(state.solver, name).find(({ what }) => what === 'anode current')?.value ?? 0;
}

function faradsAcross(states: RatedStates, part: ValvePart, type: ValveType): number {
  const { chosen, context } = states.nominal.model;
  const section = type.sections[0];
  const netOf = (pin: number): string => context.wiring.netAt(`${part.id}.${pin}`);
  const [anode, cathode] = [section?.pins['anode'] ?? 0, section?.pins['cathode'] ?? 0].map((pin) => {
    return new Set(joinedWith(type, pin).map(netOf));
  });
  const own = { ...context, world: readWorld(nominalWorld) };
  return chosen.parts.reduce((sum, each) => {
    if (each.kind !== 'capacitor' || !anode || !cathode) return sum;
    const nets = each.between.map((place) => context.wiring.netAt(place));
    const isAcross = nets.some((net) => anode.has(net)) && nets.some((net) => cathode.has(net));
    return isAcross ? sum + partValue(own, each.id, each.farads) : sum;
  }, 0);
}
