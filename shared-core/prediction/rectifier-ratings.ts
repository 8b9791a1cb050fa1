import { compareLimits, type RectifierLimits } from '../circuit/supply/limits.ts';
import type { FoundSupply } from '../circuit/supply/supply-wiring.ts';
import type { ValveType } from '../valves/valve-type.ts';
import type { ConditionState } from './condition-model.ts';
import type { KitSupply } from './kit-supplies.ts';
import type { RatingFigure } from './prediction.ts';
import type { RatedStates } from './rated-states.ts';
import { valveInSocket } from './valve-elements.ts';

/** A rectifier part, what it bears, and on which basis. */
interface Rectifier {
  readonly part: string;
  readonly limits: RectifierLimits;
  readonly basis: RatingFigure['basis'];
}

/**
 * What every supply asks of its rectifiers.
 *
 * Currents at the mains that the ratings are for; the reverse voltage again at high mains without load.
 */
export function rectifierRatings(states: RatedStates): readonly RatingFigure[] {
  return states.nominal.supplies.found.flatMap((found, index) =>
    rectifiersOf(states.nominal, found).flatMap((rectifier) => {
      const state = rectifier.basis === 'design-centre' ? states.nominal : states.high;
      const settled = compare(state, index, rectifier, rectifier.basis);
      const warming = compare(states.warmUp, index, rectifier, 'warm-up').filter(
        ({ what }) => what === 'peak inverse voltage',
      );
      return [...settled, ...warming];
    }),
  );
}

function compare(
  state: ConditionState,
  index: number,
  { part, limits }: Rectifier,
  basis: RatingFigure['basis'],
): readonly RatingFigure[] {
  const found = state.supplies.found[index];
  if (!found) return [];
  const { supply, id } = found;
  const waveform = state.waveforms[index];
  const element = state.solver.evaluateElement(id);
  const highest =
    waveform?.maximumVolts ?? (element.point[0] ?? 0) - (element.point[element.nets.length - 1] ?? 0);
  const phases = supply.phases.flatMap((phase) => phase ?? []);
  const emf = Math.max(...phases.map(({ emfVolts }) => emfVolts));
  const duty = {
    inverseVolts: inverseVolts(supply, emf, highest),
    peakAmps: Math.max(0, ...(waveform?.phases.map(({ peakAmps }) => peakAmps) ?? [])),
    meanAmps: waveform?.loadAmps ?? 0,
    // A choke keeps the reservoir's charging current off the rectifier.
    reservoirFarads: supply.input === 'choke' ? 0 : supply.reservoirFarads,
    emfVolts: Math.max(...supply.emfVoltsRms),
    sourceOhms: Math.min(...phases.map(({ ohms }) => ohms)),
  };
  const used = supply.input === 'choke' ? { ...limits, sourceOhmsAt: [] } : limits;
  return compareLimits(duty, used).map((figure) => ({ part, ...figure, basis }));
}

/** What one rectifier bears in reverse, in volts (V). */
function inverseVolts(supply: FoundSupply, emf: number, highest: number): number {
  if (supply.form === 'bridge') return emf;
  switch (supply.input) {
    case 'choke':
      // Before the choke the voltage follows the other phase's crest.
      return 2 * emf;
    case 'pump':
      return highest;
    case 'doubler':
      return emf + highest / 2;
    case 'capacitor':
      return emf + highest;
  }
}

function rectifiersOf(state: ConditionState, { supply }: KitSupply): readonly Rectifier[] {
  const { chosen, context } = state.model;
  return chosen.parts.flatMap((part): readonly Rectifier[] => {
    const isUsed = supply.replaced.some((id) => id === part.id || id.startsWith(`${part.id}.`));
    if (!isUsed) return [];
    if (part.kind === 'diode') {
      const limits = { inverseVolts: part.reverseVolts, meanAmps: part.amps };
      return [{ part: part.id, limits, basis: 'absolute' }];
    }
    if (part.kind !== 'valve') return [];
    const type = valveInSocket(context, part);
    return type ? [{ part: part.id, limits: limitsOf(type), basis: basisOf(type) }] : [];
  });
}

function basisOf(type: ValveType): RatingFigure['basis'] {
  return type.ratings.find(({ what }) => what === 'peakAnodeAmps')?.basis ?? 'design-centre';
}

function limitsOf(type: ValveType): RectifierLimits {
  const rating = (what: string): number | undefined =>
    type.ratings.find((candidate) => candidate.what === what)?.value;
  const [inverseVolts, peakAmps, meanAmps] = ['inversePeakVolts', 'peakAnodeAmps', 'dcAmps'].map(rating);
  const points = (type.rectifier?.supplies ?? [])
    .map(({ windingVolts, anodeOhms }) => ({ emfVolts: windingVolts, ohms: anodeOhms }))
    .sort((a, b) => a.emfVolts - b.emfVolts);
  return {
    ...(inverseVolts === undefined ? {} : { inverseVolts }),
    ...(peakAmps === undefined ? {} : { peakAmps }),
    ...(meanAmps === undefined ? {} : { meanAmps }),
    ...(type.rectifier ? { reservoirFarads: type.rectifier.maxReservoirFarads } : {}),
    ...(points.length > 0 ? { sourceOhmsAt: points } : {}),
  };
}
