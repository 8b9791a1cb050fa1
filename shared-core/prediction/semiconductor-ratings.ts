import { elementFigures } from '../circuit/operating-point.ts';
import type { SemiconductorPart } from '../kit/semiconductor-parts.ts';
import type { ConditionState } from './condition-model.ts';
import type { RatingFigure } from './prediction.ts';
import { rate, type RatedStates } from './rated-states.ts';

/** Largest reverse voltage of an LED, in volts (V): what data sheets commonly allow (common practice, no source). */
const ledReverseVolts = 5;
/** Largest gate voltage of a MOSFET, in volts (V): what data sheets commonly allow (common practice, no source). */
const gateVolts = 20;

/** Zener diodes, LEDs, transistors and regulators against their ratings, settled and during warm-up. */
export function semiconductorRatings(
  { high, warmUp }: RatedStates,
  part: SemiconductorPart,
): readonly RatingFigure[] {
  const worst = (what: string): readonly [number, RatingFigure['basis']] => {
    const [settled, warming] = [figureOf(high, part.id, what), figureOf(warmUp, part.id, what)];
    return warming > settled ? [warming, 'warm-up'] : [settled, 'absolute'];
  };
  const figure = (name: string, what: string, unit: RatingFigure['unit'], limit: number): RatingFigure => {
    const [value, basis] = worst(what);
    return rate(part.id, name, unit, value, limit, basis);
  };
  switch (part.kind) {
    case 'zener':
      return [figure('dissipation', 'dissipation', 'W', part.watts)];
    case 'led':
      return [
        figure('current', 'current', 'A', part.maxAmps),
        figure('reverse voltage', 'reverse voltage', 'V', ledReverseVolts),
      ];
    case 'transistor':
      return [
        figure('dissipation', 'dissipation', 'W', part.watts),
        ...(part.gate
          ? [
              figure('current', 'drain current', 'A', part.maxAmps),
              figure('voltage', 'drain-source voltage', 'V', part.maxVolts),
              figure('gate voltage', 'gate-source voltage', 'V', gateVolts),
            ]
          : [
              figure('current', 'collector current', 'A', part.maxAmps),
              figure('voltage', 'collector-emitter voltage', 'V', part.maxVolts),
            ]),
      ];
    case 'regulator':
      return [
        figure('dissipation', 'dissipation', 'W', part.watts),
        figure('current', 'output current', 'A', part.amps),
        figure('voltage', 'input-output voltage', 'V', part.maxVolts),
      ];
  }
}

function figureOf(state: ConditionState, id: string, what: string): number {
  if (!state.solver.compiled.elementIndex.has(id)) return 0;
  return Math.abs(elementFigures(state.solver, id).find((figure) => figure.what === what)?.value ?? 0);
}
