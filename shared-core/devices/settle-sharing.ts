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
 * Only capacitor-input supplies take part; the others are few in a kit and draw no pulses to speak of.
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
  if (sharing.length < 2) return;
  for (let round = 0; round < mostRounds; round++) {
    const supplies = sharing.map(({ id, supply }) => describe(solver, id, supply));
    if (supplies.some(({ amps, farads }) => !(amps > 0) || !(farads > 0))) return;
    const sags = sagOfSharing(supplies, coreOhms, sharing[0]!.supply.hertz);
    if (!sags) return;
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
