import { defineDevice } from '../circuit/device.ts';

/** Columns: seven pins, then the six branches. */
const width = 13;

/**
 * Push-pull output transformer
 *
 * As the output transformer, with the primary in two halves from anode to anode and a screen tap on each at
 * `tap` of the half's turns, counted from the centre. What flows in at both anodes magnetises in opposite
 * directions, so that equal currents leave the core without any. Copper of a half is shared in proportion to the
 * turns. At rest nothing but copper. No leakage between the halves: class B notches are not predicted.
 */
export const pushPullOutputTransformer = defineDevice({
  name: 'push-pull-output-transformer',
  pins: ['primary-a', 'tap-a', 'centre', 'tap-b', 'primary-b', 'secondary-a', 'secondary-b'],
  branches: ['magnetising', 'outer-a', 'inner-a', 'inner-b', 'outer-b', 'secondary'],
  parameters: [
    {
      name: 'ratio',
      unit: '',
      initial: 25,
      range: [0.1, 500],
      meaning: 'Whole primary over secondary turns',
    },
    {
      name: 'primaryHenries',
      unit: 'H',
      initial: 50,
      range: [0.01, 1000],
      meaning: 'Inductance of the whole primary',
    },
    { name: 'firstOhms', unit: 'Ω', initial: 100, range: [0, 1e9], meaning: 'Copper from centre to a' },
    { name: 'secondOhms', unit: 'Ω', initial: 100, range: [0, 1e9], meaning: 'Copper from centre to b' },
    { name: 'secondaryOhms', unit: 'Ω', initial: 0.5, range: [1e-3, 1e9], meaning: 'Secondary copper' },
    { name: 'tap', unit: '', initial: 0.43, range: [0.01, 0.99], meaning: 'Screen tap, as part of a half' },
  ],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const [ratio, , , , secondaryOhms] = parameters as unknown as readonly number[];
    const { ohms, turns } = sectionsOf(parameters);
    const amps = [8, 9, 10, 11].map((index) => unknowns[index]!);
    const [magnetising, secondary] = [unknowns[7]!, unknowns[12]!];
    const copper = ohms.reduce((sum, each, n) => sum + each * amps[n]!, 0);
    const core = unknowns[0]! - unknowns[4]! - copper;
    const set = (row: number, column: number, value: number): void => {
      out.derivatives[row * width + column] = value;
    };
    const addCore = (row: number, factor: number): void => {
      set(row, 0, factor + out.derivatives[row * width]!);
      set(row, 4, -factor + out.derivatives[row * width + 4]!);
      ohms.forEach((each, n) => set(row, 8 + n, -factor * each + out.derivatives[row * width + 8 + n]!));
    };
    out.derivatives.fill(0);
    out.residuals.fill(0);
    // Each section carries its current from its first pin to its second.
    for (let n = 0; n < 4; n += 1) {
      out.residuals[n]! += amps[n]!;
      out.residuals[n + 1]! -= amps[n]!;
      set(n, 8 + n, 1);
      set(n + 1, 8 + n, -1);
    }
    out.residuals[5] = secondary;
    out.residuals[6] = -secondary;
    set(5, 12, 1);
    set(6, 12, -1);
    out.residuals[7] = core;
    addCore(7, 1);
    // Three sections; the fourth follows from the whole.
    for (let n = 0; n < 3; n += 1) {
      const row = 8 + n;
      out.residuals[row] = unknowns[n]! - unknowns[n + 1]! - ohms[n]! * amps[n]! - turns[n]! * core;
      set(row, n, 1);
      set(row, n + 1, -1);
      set(row, 8 + n, -ohms[n]!);
      addCore(row, -turns[n]!);
    }
    out.residuals[11] = unknowns[5]! - unknowns[6]! - secondaryOhms! * secondary - core / ratio!;
    set(11, 5, 1);
    set(11, 6, -1);
    set(11, 12, -secondaryOhms!);
    addCore(11, -1 / ratio!);
    out.residuals[12] =
      turns.reduce((sum, each, n) => sum + each * amps[n]!, 0) + secondary / ratio! - magnetising;
    turns.forEach((each, n) => set(12, 8 + n, each));
    set(12, 12, 1 / ratio!);
    set(12, 7, -1);
  },
  storage: (parameters) => [{ kind: 'flux', branch: 0, henries: parameters[1]! }],
  report(unknowns, parameters) {
    const amps = [8, 9, 10, 11].map((index) => unknowns[index]!);
    const { ohms } = sectionsOf(parameters);
    return [
      { what: 'primary current', unit: 'A', value: Math.max(...amps.map(Math.abs)) },
      { what: 'dissipation', unit: 'W', value: ohms.reduce((sum, each, n) => sum + each * amps[n]! ** 2, 0) },
    ];
  },
});

/** Copper (Ω) and part of the turns of the four sections, from anode a to anode b. */
function sectionsOf(parameters: ArrayLike<number>): {
  readonly ohms: readonly number[];
  readonly turns: readonly number[];
} {
  const [first, second, tap] = [parameters[2]!, parameters[3]!, parameters[5]!];
  const parts = [1 - tap, tap, tap, 1 - tap];
  return {
    ohms: parts.map((part, n) => part * (n < 2 ? first : second)),
    turns: parts.map((part) => part / 2),
  };
}
