import type { Device } from './device.ts';

/** One device in a circuit: which nets its pins sit on and what it is set to. */
export interface CircuitElement {
  /** Unique in the circuit. A part's elements start with the part's name: `V1`, `V1#heater`, `R4`. */
  readonly id: string;
  readonly device: Device;
  /** Net of each pin, in the order of `device.pins`. */
  readonly nets: readonly string[];
  /** Values by name; those left out take the device's `initial`. SI units. */
  readonly parameters: Readonly<Record<string, number>>;
}

/** What is connected to what. The reference net is held at 0 V. */
export interface Circuit {
  readonly elements: readonly CircuitElement[];
  readonly reference: string;
}
