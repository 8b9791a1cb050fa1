import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition } from '../kit/kit.ts';
import type { SectionVolts } from '../valves/section-law.ts';
import type { Fitted } from './bench.ts';
import type { Wiring } from './wiring.ts';
import type { WorldReader } from './world.ts';

/**
 * How far the valves have warmed up: all of them, only the rectifiers (the warm-up peak: full voltage, no
 * load), or none.
 */
export type ValveHeat = 'hot' | 'rectifiers' | 'cold';

/** Everything that decides what one part looks like in a circuit. */
export interface ElementContext {
  readonly chosen: ChosenKit;
  readonly condition: Condition;
  readonly wiring: Wiring;
  readonly fitted: Fitted;
  readonly world: WorldReader;
  readonly heat: ValveHeat;
  /**
   * Electrode voltages of the valve sections by name, at the first solution of the condition: the points at which
   * errors of a model's current, slope and amplification hold. Filled by that solution.
   */
  readonly pivots: Map<string, SectionVolts>;
}

/** A part's value: as measured where the builder measured it, else nominal, times the world's deviation. */
export function partValue(context: ElementContext, id: string, nominal: number): number {
  return (context.fitted.measured[id] ?? nominal) * context.world.factor(id);
}
