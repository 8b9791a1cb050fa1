import type { Circuit, CircuitElement } from '../../shared-core/circuit/circuit.ts';
import type { Device } from '../../shared-core/circuit/device.ts';
import { capacitor } from '../../shared-core/devices/capacitor.ts';
import { inductor } from '../../shared-core/devices/inductor.ts';
import { resistor } from '../../shared-core/devices/resistor.ts';
import { voltageSource } from '../../shared-core/devices/voltage-source.ts';

/** A circuit with `gnd` as its reference. */
export function circuit(...elements: readonly CircuitElement[]): Circuit {
  return { elements, reference: 'gnd' };
}

/** Any device. */
export function element(
  id: string,
  device: Device,
  nets: readonly string[],
  parameters: Readonly<Record<string, number>> = {},
): CircuitElement {
  return { id, device, nets, parameters };
}

/** A resistor, in ohms (Ω). */
export function r(id: string, one: string, other: string, ohms: number): CircuitElement {
  return element(id, resistor, [one, other], { ohms });
}

/** A capacitor, in farads (F). */
export function c(id: string, plus: string, minus: string, farads: number): CircuitElement {
  return element(id, capacitor, [plus, minus], { farads });
}

/** An inductor, in henries (H), with its copper in ohms (Ω). */
export function l(id: string, one: string, other: string, henries: number, ohms: number): CircuitElement {
  return element(id, inductor, [one, other], { henries, ohms });
}

/** A voltage source against `gnd`, in volts (V). */
export function v(id: string, plus: string, volts: number): CircuitElement {
  return element(id, voltageSource, [plus, 'gnd'], { volts });
}
