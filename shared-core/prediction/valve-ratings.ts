import { elementFigures } from '../circuit/operating-point.ts';
import type { ValvePart } from '../kit/kit.ts';
import type { RatingName, ValveRating, ValveSection, ValveType } from '../valves/valve-type.ts';
import type { ConditionState } from './condition-model.ts';
import type { RatingFigure } from './prediction.ts';
import { rate, type RatedStates } from './rated-states.ts';
import { sectionName, valveInSocket } from './valve-elements.ts';

/** Ratings that the operating point of a section is compared with. */
const sectionFigures: Partial<Record<RatingName, { readonly figure: string; readonly what: string }>> = {
  anodeVolts: { figure: 'anode voltage', what: 'anode voltage' },
  anodeWatts: { figure: 'anode dissipation', what: 'anode dissipation' },
  cathodeAmps: { figure: 'cathode current', what: 'cathode current' },
  screenVolts: { figure: 'screen voltage', what: 'screen voltage' },
  screenWatts: { figure: 'screen dissipation', what: 'screen dissipation' },
};

/** Heaters live longest within ±10 % of their rated voltage at nominal mains (receiving-valve practice). */
const heaterShare = 0.1;

/** Every section and heater of every valve against the ratings of the type that is in the socket. */
export function valveRatings(states: RatedStates): readonly RatingFigure[] {
  const { chosen, context } = states.nominal.model;
  return chosen.parts.flatMap((part): readonly RatingFigure[] => {
    if (part.kind !== 'valve') return [];
    const type = valveInSocket(context, part);
    if (!type) return [];
    return [
      ...type.sections.flatMap((section) => rateSection(states, part, type, section)),
      ...rateTogether(states, part, type),
      ...rateHeaters(states.nominal, part, type),
    ];
  });
}

function stateFor(states: RatedStates, rating: ValveRating): ConditionState {
  return rating.basis === 'design-centre' ? states.nominal : states.high;
}

function rateSection(
  states: RatedStates,
  part: ValvePart,
  type: ValveType,
  section: ValveSection,
): readonly RatingFigure[] {
  const name = sectionName(part, section);
  return type.ratings.flatMap((rating): readonly RatingFigure[] => {
    const state = stateFor(states, rating);
    if (rating.what === 'heaterCathodeVolts') {
      const volts = heaterCathodeVolts(state, part, type, section);
      return [rate(name, 'heater to cathode voltage', 'V', volts, rating.value, rating.basis)];
    }
    const wanted = sectionFigures[rating.what];
    if (!wanted || !state.solver.compiled.elementIndex.has(name)) return [];
    const found = elementFigures(state.solver, name).find(({ what }) => what === wanted.figure);
    return found ? [rate(name, wanted.what, rating.unit, found.value, rating.value, rating.basis)] : [];
  });
}

/** Watts that several electrodes share: all anodes, or anode and screen of each section. */
function rateTogether(states: RatedStates, part: ValvePart, type: ValveType): readonly RatingFigure[] {
  const shared: Partial<Record<RatingName, { readonly figures: readonly string[]; readonly what: string }>> =
    {
      allAnodesWatts: { figures: ['anode dissipation'], what: 'dissipation of all anodes' },
      anodeAndScreenWatts: {
        figures: ['anode dissipation', 'screen dissipation'],
        what: 'dissipation of anode and screen',
      },
    };
  return type.ratings.flatMap((rating): readonly RatingFigure[] => {
    const wanted = shared[rating.what];
    if (!wanted) return [];
    const { solver } = stateFor(states, rating);
    const names = type.sections
      .map((section) => sectionName(part, section))
      .filter((name) => solver.compiled.elementIndex.has(name));
    const watts = names
      .flatMap((name) => elementFigures(solver, name))
      .filter(({ what }) => wanted.figures.includes(what))
      .reduce((sum, { value }) => sum + value, 0);
    return [rate(part.id, wanted.what, rating.unit, watts, rating.value, rating.basis)];
  });
}

/** Largest DC difference between a cathode and its heater, in volts (V). */
function heaterCathodeVolts(
  state: ConditionState,
  part: ValvePart,
  type: ValveType,
  section: ValveSection,
): number {
  const { wiring } = state.model.context;
  const volts = (pin: number): number => state.volts(wiring.netAt(`${part.id}.${pin}`));
  const cathode = volts(section.pins['cathode'] ?? 0);
  const pins = type.heater.elements.flatMap((wire) => wire.pins);
  return Math.max(0, ...pins.map((pin) => Math.abs(cathode - volts(pin))));
}

function rateHeaters(state: ConditionState, part: ValvePart, type: ValveType): readonly RatingFigure[] {
  const { wiring } = state.model.context;
  const limits = type.heater.elements.map((wire, index) => {
    // Fed from a winding or from a rectifier: what heats is the rms of both.
    const [one, other] = wire.pins.map((pin) => state.volts(wiring.netAt(`${part.id}.${pin}`)));
    const alternating = state.mains.heaterVolts[`${part.id}#heater${index + 1}`] ?? 0;
    const value = Math.hypot(alternating, (one ?? 0) - (other ?? 0));
    const off = value / wire.volts - 1;
    const limit = wire.volts * (1 + (off < 0 ? -heaterShare : heaterShare));
    return { value, limit, percent: (100 * Math.abs(off)) / heaterShare };
  });
  const worst = limits.reduce<(typeof limits)[0] | null>(
    (best, each) => (best && best.percent >= each.percent ? best : each),
    null,
  );
  return worst ? [{ part: part.id, what: 'heater', unit: 'V', basis: 'design-centre', ...worst }] : [];
}
