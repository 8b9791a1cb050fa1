import { defineDevice } from '../circuit/device.ts';

/**
 * Tapped output transformer
 *
 * As the output transformer, with a tap at `tap` of the primary turns, counted from `primary-a`: a screen
 * tap (ultra-linear) or, at 0.5, the centre tap of a push-pull primary. Copper is shared in proportion to
 * the turns.
 */
export const tappedOutputTransformer = defineDevice({
  name: 'tapped-output-transformer',
  pins: ['primary-a', 'tap', 'primary-b', 'secondary-a', 'secondary-b'],
  branches: ['magnetising', 'first', 'second', 'secondary'],
  parameters: [
    {
      name: 'ratio',
      unit: '',
      initial: 25,
      range: [0.1, 500],
      meaning: 'Whole primary over secondary turns',
    },
    { name: 'primaryHenries', unit: 'H', initial: 10, range: [0.01, 1000], meaning: 'Primary inductance' },
    { name: 'primaryOhms', unit: 'Ω', initial: 300, range: [0, 1e9], meaning: 'Copper of the whole primary' },
    { name: 'secondaryOhms', unit: 'Ω', initial: 0.5, range: [1e-3, 1e9], meaning: 'Secondary copper' },
    { name: 'tap', unit: '', initial: 0.43, range: [0.01, 0.99], meaning: 'Turns before the tap, as a part' },
  ],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const [ratio, , ohms, secondaryOhms, tap] = parameters as unknown as readonly number[];
    const [a, t, b, sa, sb, magnetising, first, second, secondary] = unknowns as unknown as readonly number[];
    const [firstOhms, secondOhms] = [ohms! * tap!, ohms! * (1 - tap!)];
    const core = a! - b! - firstOhms * first! - secondOhms * second!;
    out.residuals.set([first!, second! - first!, -second!, secondary!, -secondary!]);
    out.residuals[5] = core;
    out.residuals[6] = a! - t! - firstOhms * first! - tap! * core;
    out.residuals[7] = sa! - sb! - secondaryOhms! * secondary! - core / ratio!;
    out.residuals[8] = tap! * first! + (1 - tap!) * second! + secondary! / ratio! - magnetising!;
    const row = (index: number, values: readonly number[]): void => out.derivatives.set(values, index * 9);
    const [x, r] = [tap!, 1 / ratio!];
    row(0, [0, 0, 0, 0, 0, 0, 1, 0, 0]);
    row(1, [0, 0, 0, 0, 0, 0, -1, 1, 0]);
    row(2, [0, 0, 0, 0, 0, 0, 0, -1, 0]);
    row(3, [0, 0, 0, 0, 0, 0, 0, 0, 1]);
    row(4, [0, 0, 0, 0, 0, 0, 0, 0, -1]);
    row(5, [1, 0, -1, 0, 0, 0, -firstOhms, -secondOhms, 0]);
    row(6, [1 - x, -1, x, 0, 0, 0, (x - 1) * firstOhms, x * secondOhms, 0]);
    row(7, [-r, 0, r, 1, -1, 0, r * firstOhms, r * secondOhms, -secondaryOhms!]);
    row(8, [0, 0, 0, 0, 0, -1, x, 1 - x, r]);
  },
  storage: (parameters) => [{ kind: 'flux', branch: 0, henries: parameters[1]! }],
  report(unknowns, parameters) {
    const [first, second] = [unknowns[6]!, unknowns[7]!];
    const [firstOhms, secondOhms] = [parameters[2]! * parameters[4]!, parameters[2]! * (1 - parameters[4]!)];
    return [
      { what: 'primary current', unit: 'A', value: Math.max(Math.abs(first), Math.abs(second)) },
      { what: 'dissipation', unit: 'W', value: first * first * firstOhms + second * second * secondOhms },
    ];
  },
});
