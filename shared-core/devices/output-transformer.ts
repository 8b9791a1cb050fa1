import { defineDevice } from '../circuit/device.ts';

/**
 * Output transformer
 *
 * At rest two copper resistances. For small signal an ideal ratio with the primary inductance across it:
 * the core's voltage e is `v(primary) − ohms × i(primary)`; the magnetising current obeys `e = L di/dt`,
 * which at rest leaves e = 0; the secondary follows as e divided by the ratio; and primary ampere turns
 * plus secondary ampere turns give the magnetising current. No leakage, no winding capacitance: the
 * upper corner that a real transformer sets is not predicted.
 */
export const outputTransformer = defineDevice({
  name: 'output-transformer',
  pins: ['primary-a', 'primary-b', 'secondary-a', 'secondary-b'],
  branches: ['magnetising', 'primary', 'secondary'],
  parameters: [
    {
      name: 'ratio',
      unit: '',
      initial: 25,
      range: [0.1, 500],
      meaning: 'Primary turns over secondary turns',
    },
    { name: 'primaryHenries', unit: 'H', initial: 10, range: [0.01, 1000], meaning: 'Primary inductance' },
    { name: 'primaryOhms', unit: 'Ω', initial: 300, range: [0, 1e9], meaning: 'Primary copper' },
    { name: 'secondaryOhms', unit: 'Ω', initial: 0.5, range: [1e-3, 1e9], meaning: 'Secondary copper' },
  ],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const [ratio, , primaryOhms, secondaryOhms] = parameters as unknown as readonly number[];
    const [pa, pb, sa, sb, magnetising, primary, secondary] = unknowns as unknown as readonly number[];
    const core = pa! - pb! - primaryOhms! * primary!;
    out.residuals.set([primary!, -primary!, secondary!, -secondary!]);
    out.residuals[4] = core;
    out.residuals[5] = sa! - sb! - secondaryOhms! * secondary! - core / ratio!;
    out.residuals[6] = primary! + secondary! / ratio! - magnetising!;
    const set = (row: number, column: number, value: number): void => {
      out.derivatives[row * 7 + column] = value;
    };
    set(0, 5, 1);
    set(1, 5, -1);
    set(2, 6, 1);
    set(3, 6, -1);
    set(4, 0, 1);
    set(4, 1, -1);
    set(4, 5, -primaryOhms!);
    set(5, 0, -1 / ratio!);
    set(5, 1, 1 / ratio!);
    set(5, 2, 1);
    set(5, 3, -1);
    set(5, 5, primaryOhms! / ratio!);
    set(5, 6, -secondaryOhms!);
    set(6, 4, -1);
    set(6, 5, 1);
    set(6, 6, 1 / ratio!);
  },
  storage: (parameters) => [{ kind: 'flux', branch: 0, henries: parameters[1]! }],
  report(unknowns, parameters) {
    const amps = unknowns[5]!;
    return [
      { what: 'primary current', unit: 'A', value: Math.abs(amps) },
      { what: 'dissipation', unit: 'W', value: amps * amps * parameters[2]! },
    ];
  },
});
