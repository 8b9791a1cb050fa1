import { sectionFigures } from '../../../shared-core/valves/section-law.ts';
import type { TypicalOperation, ValveSection } from '../../../shared-core/valves/valve-type.ts';
import type { SolvedOperation } from './operation-rows.ts';

/** Halvings of the interval in which an anode voltage is looked for: 1e-15 of a supply. */
const halvings = 50;

/**
 * Output at the onset of grid current, by the load line on the model's curves: the grid swings from its rest to
 * zero and as far the other way, the screen is held.
 *
 * One valve: (Vmax − Vmin)·(Imax − Imin)/8. Two valves: the composite line of a quarter of the load from anode
 * to anode, I²·R/2 at the peak. Losses of a transformer and the fall of the supply are left out: printed only.
 */
export function outputWatts(
  section: ValveSection,
  { load, screenVolts: stated }: TypicalOperation,
  rest: SolvedOperation,
): number {
  if (!load) return 0;
  const amps = (anodeVolts: number, gridVolts: number): number => {
    const screenVolts = stated === undefined ? anodeVolts : rest.screenVolts;
    const figures = sectionFigures(section, { anodeVolts, screenVolts, gridVolts });
    return figures.anodeAmps + (stated === undefined ? figures.screenAmps : 0);
  };
  const supply = rest.anodeVolts;
  if (load.valves === 1) {
    const line = (grid: number): number =>
      rootOf((volts) => amps(volts, grid) - rest.anodeAmps - (supply - volts) / load.ohms, 0, 3 * supply);
    const swing = line(2 * rest.gridVolts) - line(0);
    return swing ** 2 / (8 * load.ohms);
  }
  const ohms = load.ohms / 4;
  const low = rootOf(
    (volts) => amps(volts, 0) - amps(2 * supply - volts, 2 * rest.gridVolts) - (supply - volts) / ohms,
    0,
    supply,
  );
  return (supply - low) ** 2 / (2 * ohms);
}

/** Where a rising function crosses zero. */
function rootOf(rising: (x: number) => number, low: number, high: number): number {
  let [from, to] = [low, high];
  for (let each = 0; each < halvings; each++) {
    const middle = (from + to) / 2;
    if (rising(middle) < 0) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}
