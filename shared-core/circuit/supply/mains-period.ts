import { integrate, type TimeProblem } from '../../numerics/runge-kutta.ts';
import { kneeVolts, type PhaseCurve } from './rectifier-law.ts';

/** Conduction edges are met to this, relative to the highest EMF. */
const switchTolerance = 1e-12;

/**
 * Integrates one period in four quarters.
 *
 * Each quarter begins or ends on a crest: a pulse too short for the longest step cannot be missed.
 */
export function integratePeriod(problem: TimeProblem, state: Float64Array, period: number): boolean {
  for (let quarter = 0; quarter < 4; quarter++) {
    if (integrate(problem, state, (quarter * period) / 4, ((quarter + 1) * period) / 4) < 0) return false;
  }
  return true;
}

/** Where each phase begins to conduct: the kinks of the voltage. */
export function conductionSwitches(
  phases: readonly [PhaseCurve, PhaseCurve],
  hertz: number,
  top: number,
): TimeProblem['switches'] {
  const turn = 2 * Math.PI * hertz;
  const knees = phases.map(kneeVolts);
  return {
    count: 2,
    tolerance: switchTolerance * top,
    at(time, state, values) {
      const sine = Math.sin(turn * time);
      values[0] = phases[0].emfVolts * sine - state[0]! - knees[0]!;
      values[1] = -phases[1].emfVolts * sine - state[0]! - knees[1]!;
    },
  };
}
