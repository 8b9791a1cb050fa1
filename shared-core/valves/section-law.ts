import type { Device } from '../circuit/device.ts';
import { gasStabiliser } from '../devices/gas-stabiliser.ts';
import { pentode } from '../devices/pentode.ts';
import { rectifierValve } from '../devices/rectifier-valve.ts';
import { triode } from '../devices/triode.ts';
import type { SectionDevice, ValveSection } from './valve-type.ts';

const devices: Readonly<Record<SectionDevice, Device>> = {
  triode,
  pentode,
  'rectifier-valve': rectifierValve,
  'gas-stabiliser': gasStabiliser,
};

/** The device whose law a section follows. */
export function sectionDevice(section: Pick<ValveSection, 'device'>): Device {
  return devices[section.device];
}

/** Voltages of a section's electrodes to its cathode, in volts (V). */
export interface SectionVolts {
  readonly anodeVolts: number;
  readonly screenVolts?: number;
  readonly gridVolts?: number;
}

/** What a section does at fixed voltages: A, S, Ω, pure number. */
export interface SectionFigures {
  readonly anodeAmps: number;
  readonly screenAmps: number;
  readonly transconductance: number;
  readonly anodeOhms: number;
  readonly mu: number;
  /** Control grid to screen grid, of a pentode; 0 for a triode. */
  readonly screenMu: number;
}

/**
 * Currents and small-signal figures of one section at fixed voltages.
 *
 * @param changes Parameters that differ from the section's own, by name.
 */
export function sectionFigures(
  section: ValveSection,
  volts: SectionVolts,
  changes: Readonly<Record<string, number>> = {},
): SectionFigures {
  const device = sectionDevice(section);
  const size = device.pins.length;
  const byName: Readonly<Record<string, number>> = {
    anode: volts.anodeVolts,
    screen: volts.screenVolts ?? 0,
    grid: volts.gridVolts ?? 0,
    cathode: 0,
  };
  const unknowns = Float64Array.from(device.pins, (pin) => byName[pin] ?? 0);
  const parameters = Float64Array.from(
    device.parameters,
    ({ name, initial }) => changes[name] ?? section.parameters[name] ?? initial,
  );
  const out = { residuals: new Float64Array(size), derivatives: new Float64Array(size * size) };
  device.evaluate(unknowns, parameters, out);
  const screen = device.pins.indexOf('screen');
  const grid = device.pins.indexOf('grid');
  const transconductance = grid < 0 ? 0 : out.derivatives[grid]!;
  const byScreen = screen < 0 ? 0 : out.derivatives[screen]!;
  const anodeOhms = 1 / out.derivatives[0]!;
  return {
    anodeAmps: out.residuals[0]!,
    screenAmps: screen < 0 ? 0 : out.residuals[screen]!,
    transconductance,
    anodeOhms,
    mu: transconductance * anodeOhms,
    screenMu: byScreen > 0 ? transconductance / byScreen : 0,
  };
}
