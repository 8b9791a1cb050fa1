import type { Solver } from '../circuit/solver.ts';
import { emptyCurve, fillCurve, type PhaseCurve } from '../circuit/supply/rectifier-law.ts';
import { sagOfSharing, type SharingSupply } from '../circuit/supply/shared-core-sag.ts';
import type { FoundSupply } from '../circuit/supply/supply-wiring.ts';
import { at, perPhase } from './rectifier-supply-parameters.ts';

/** Rounds of the loop round the solver; each takes the rest down to a few hundredths. */
const mostRounds = 2;
/** A change of the sag that ends it, relative to the voltage. */
const settled = 1e-4;

/**
 * Lets the supplies on one transformer feel each other's pulses: solves, finds the sag, solves again.
 *
 * Capacitor-input supplies pulse together. What works into a choke draws nearly its mean current at the crests, where
 * the others conduct: it takes the same voltage off each of their pulses. The pulses of the others hardly move the mean
 * before a choke (0.005 %), and pumps and doublers are left alone.
 *
 * @param solver At a solution; at a better one afterwards.
 * @param found Element id and supply of all that are on the transformer.
 * @param coreOhms Primary copper with the linear loads, in ohms (Ω).
 */
export function settleSharing(
  solver: Solver,
  found: readonly { readonly id: string; readonly supply: FoundSupply }[],
  coreOhms: number,
): void {
  const sharing = found.filter(({ supply }) => supply.input === 'capacitor');
  const chokes = found.filter(({ supply }) => supply.input === 'choke' && supply.phases[1]);
  if (sharing.length === 0 || sharing.length + chokes.length < 2) return;
  for (let round = 0; round < mostRounds; round++) {
    const supplies = sharing.map(({ id, supply }) => describe(solver, id, supply));
    if (supplies.some(({ amps, farads }) => !(amps > 0) || !(farads > 0))) return;
    const pulsed = sharing.length > 1 ? sagOfSharing(supplies, coreOhms, sharing[0]!.supply.hertz) : [0];
    if (!pulsed) return;
    // What the chokes' steady currents drop on the primary's copper, per turn of the primary.
    const perTurn = chokes.reduce((sum, { id, supply }) => {
      const amps = -solver.evaluateElement(id).stamp.residuals[0]!;
      return sum + coreOhms * supply.pieces[0].ratio * amps;
    }, 0);
    const sags = pulsed.map((volts, index) => volts + perTurn * sharing[index]!.supply.pieces[0].ratio);
    let change = 0;
    sharing.forEach(({ id }, index) => {
      const element = solver.element(id);
      change = Math.max(
        change,
        Math.abs(sags[index]! - element.parameters[at.sag]!) / supplies[index]!.volts,
      );
      solver.setParameterAt(element, at.sag, sags[index]!);
    });
    if (!solver.solve(true).converged || change < settled) return;
  }
}

function describe(solver: Solver, id: string, supply: FoundSupply): SharingSupply {
  const { point, parameters, stamp } = solver.evaluateElement(id);
  const curve = (phase: number): PhaseCurve => {
    const base = phase * perPhase;
    const into = emptyCurve();
    const [emf, ohms, law, saturation, emission, bulk, perveance, junctions] = parameters.subarray(
      base,
      base + 8,
    );
    fillCurve(into, Math.round(law!), emf!, ohms!, saturation!, emission!, bulk!, perveance!, junctions!);
    return into;
  };
  const sign: 1 | -1 = supply.phases[0].isOpposite ? -1 : 1;
  return {
    phases: [curve(0), curve(1)],
    ratios: [sign * supply.pieces[0].ratio, -sign * (supply.pieces[1]?.ratio ?? 0)],
    pieces: [piecesOf(supply, 0, sign), piecesOf(supply, 1, sign === 1 ? -1 : 1)],
    farads: parameters[at.totalFarads]!,
    amps: -stamp.residuals[0]!,
    volts: point[0]! - point[1]!,
  };
}

function piecesOf(supply: FoundSupply, phase: 0 | 1, sign: 1 | -1): SharingSupply['pieces'][0] {
  return (supply.ownPieces[phase] ?? []).map((piece) => ({ piece, sign }));
}
