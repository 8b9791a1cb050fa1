import type { MainsTransformerPart, TransformerWinding } from '../kit/kit.ts';
import { primaryInUse, windingEndsOf } from '../kit/transformer-ends.ts';
import type { ConditionState } from './condition-model.ts';
import type { RatingFigure } from './prediction.ts';
import { rate, type RatedStates } from './rated-states.ts';
import { wireCondition } from './wiring.ts';

/** Windings, whole transformers and mains fuses at nominal mains, as transformers are rated. */
export function transformerRatings({ nominal }: RatedStates): readonly RatingFigure[] {
  return nominal.model.chosen.parts.flatMap((part): readonly RatingFigure[] => {
    if (part.kind === 'mains-transformer') return rateTransformer(nominal, part);
    if (part.kind !== 'fuse' || !isOnMains(nominal, part.id)) return [];
    const amps = transformersBehind(nominal, part.id).reduce(
      (sum, id) => sum + (nominal.mains.primaryAmps[id] ?? 0),
      0,
    );
    return [rate(part.id, 'steady current', 'A', amps, part.amps, 'design-centre')];
  });
}

/** The fuse's own net is the line's or the neutral's. */
function isOnMains(state: ConditionState, fuse: string): boolean {
  const { wiring } = state.model.context;
  const net = wiring.netAt(`${fuse}.a`);
  return net === wiring.netAt('inlet.line') || net === wiring.netAt('inlet.neutral');
}

/**
 * Mains transformers that are off the mains without this fuse.
 *
 * Their rms currents are added up as they stand, which is a little high where the pulses differ.
 */
function transformersBehind({ model }: ConditionState, fuse: string): readonly string[] {
  const { chosen, condition } = model;
  const without = wireCondition(
    { ...chosen, parts: chosen.parts.filter(({ id }) => id !== fuse) },
    condition,
  );
  const [line, neutral] = [without.netAt('inlet.line'), without.netAt('inlet.neutral')];
  return chosen.parts.flatMap((part) => {
    if (part.kind !== 'mains-transformer') return [];
    return primaryInUse(part, without.netAt, line, neutral) ? [] : [part.id];
  });
}

function rateTransformer(state: ConditionState, part: MainsTransformerPart): readonly RatingFigure[] {
  let taken = 0;
  let rated = 0;
  const figures = part.windings.map((winding) => {
    const amps = windingAmps(state, part, winding);
    const halves = winding.centreTapped ? 2 : 1;
    taken += halves * winding.volts * amps;
    rated += halves * winding.volts * winding.amps;
    return rate(`${part.id}.${winding.name}`, 'winding current', 'A', amps, winding.amps, 'design-centre');
  });
  return [...figures, rate(part.id, 'volt-amperes', 'VA', taken, rated, 'design-centre')];
}

/** Rms of the more loaded half: heaters and pulses; they are added as squares where both meet. */
function windingAmps(state: ConditionState, part: MainsTransformerPart, winding: TransformerWinding): number {
  const name = `${part.id}.${winding.name}`;
  const pieces = windingEndsOf(winding).length - 1;
  const ids = pieces > 1 ? Array.from({ length: pieces }, (_, index) => `${name}.${index + 1}`) : [name];
  return Math.max(
    ...ids.map((id) => {
      const pulse = state.pulses.find((candidate) => candidate.winding === id)?.rmsAmps ?? 0;
      return Math.hypot(state.mains.amps[id] ?? 0, pulse);
    }),
  );
}
