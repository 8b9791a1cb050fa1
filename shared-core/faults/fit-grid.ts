import { SmallSignal } from '../circuit/small-signal.ts';
import type { ValvePart } from '../kit/kit.ts';
import { type ConditionState, openCondition, solveCondition } from '../prediction/condition-model.ts';
import { sectionName } from '../prediction/valve-elements.ts';
import type { ValveSection, ValveType } from '../valves/valve-type.ts';
import { nominalWorld } from '../prediction/world.ts';
import type { RatingChange } from './fit-report.ts';
import type { WiredSocket } from './fit-socket.ts';

/**
 * A grid resistance may be this much past its limit, in percent of it: sheets mean a resistor's printed value, to
 * which its tolerance and the stopper come. Common practice, no source.
 */
const mostPrinted = 105;

/** As good as direct current for any capacitor in a grid circuit, in hertz (Hz). */
const almostDirect = 1e-6;

/** Grid resistances of all sockets asked about, beside what the kit's own types make of them. */
export function compareGrids(
  before: ConditionState,
  after: ConditionState,
  sockets: readonly { readonly socket: WiredSocket; readonly type: ValveType }[],
): readonly RatingChange[] {
  const [coldBefore, coldAfter] = [before, after].map(({ model, mainsVolts }) => {
    const { chosen, condition, bench, fitted } = model;
    const cold = openCondition(chosen, condition, bench, fitted, 'rectifiers');
    return solveCondition(cold, nominalWorld, mainsVolts);
  });
  if (!coldBefore || !coldAfter) return [];
  return sockets.flatMap(({ socket, type }) => {
    const old = gridResistances(coldBefore, before, socket.part, socket.kitType);
    return gridResistances(coldAfter, after, socket.part, type).map((found) => ({
      ...found,
      before: old.find(({ part }) => part === found.part)?.percent ?? null,
    }));
  });
}

/**
 * Resistance of each grid circuit against what the type in hand allows.
 *
 * The sheet gives one limit where a resistor in the cathode makes the bias, a lower one where it is fixed: a
 * valve that draws a little grid current runs away on too much. A section whose kind of bias has no limit in the
 * catalogue is left out.
 *
 * @param cold The kit with the valves in and not yet warm: nothing but resistors between grid and cathode.
 * @param hot The same warm, for how the bias is made.
 */
function gridResistances(
  cold: ConditionState,
  hot: ConditionState,
  part: ValvePart,
  type: ValveType,
): readonly Omit<RatingChange, 'before'>[] {
  if (!cold.converged || !hot.converged) return [];
  const { wiring } = cold.model.context;
  const small = new SmallSignal(cold.solver);
  return type.sections.flatMap((section) => {
    const { grid, cathode } = section.pins;
    if (grid === undefined || cathode === undefined || cathode === 0) return [];
    const rating = type.ratings.find(({ what }) => what === biasLimit(hot, part, section));
    const nets = [grid, cathode].map((pin) => wiring.netAt(`${part.id}.${pin}`)) as [string, string];
    const known = (net: string): boolean =>
      net === wiring.reference || cold.solver.compiled.netIndex.has(net);
    if (!rating || nets[0] === nets[1] || !nets.every(known)) return [];
    const [ohms] = small.impedanceBetween(nets[0], nets[1], almostDirect);
    if (!Number.isFinite(ohms)) return [];
    return [
      {
        ...{ part: sectionName(part, section), what: 'grid resistance', unit: 'Ω' as const },
        ...{
          value: ohms,
          limit: rating.value,
          percent: (100 * ohms) / rating.value,
          isOver: (100 * ohms) / rating.value > mostPrinted,
          basis: rating.basis,
        },
        condition: hot.model.condition.id,
      },
    ];
  });
}

/** Fixed bias: most of the bias is not the cathode's own lift above the chassis. */
function biasLimit(
  state: ConditionState,
  part: ValvePart,
  { pins }: ValveSection,
): 'gridOhmsFixedBias' | 'gridOhmsCathodeBias' {
  const { wiring } = state.model.context;
  const volts = (pin = 0): number => state.volts(wiring.netAt(`${part.id}.${pin}`));
  const [grid, cathode] = [volts(pins['grid']), volts(pins['cathode'])];
  return grid < 0 && Math.abs(grid) > Math.abs(cathode) ? 'gridOhmsFixedBias' : 'gridOhmsCathodeBias';
}
