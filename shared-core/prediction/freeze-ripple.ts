import { Solver } from '../circuit/solver.ts';

/**
 * The same circuit with what the slow loop found taken as given, and no slow loop: for many amplifiers
 * that differ little.
 *
 * The ripple correction is a few tenths of a volt; it changes by as many percent as the amplifiers do.
 *
 * @param solver At its solution; the frozen one shares its compiled circuit.
 */
export function freezeRipple({ compiled }: Solver): Solver {
  const frozen = new Solver(compiled, { maxRounds: 0 });
  for (const element of compiled.elements) {
    if (!element.device.refine) continue;
    element.parameters.forEach((value, index) => frozen.setParameterAt(element, index, value));
  }
  frozen.solve();
  return frozen;
}
