import type {
  InstrumentAddress,
  KnownInstrument,
  SerialFrame,
} from '../../../shared-core/contract/instrument.ts';
import { usualTcpPort } from '../../../shared-core/contract/instrument.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { readQuantity } from '../../../shared-core/units/read-quantity.ts';

/** An address as typed. */
export interface AddressFields {
  readonly way: 'network' | 'serial port';
  readonly host: string;
  readonly port: string;
  readonly path: string;
  /** Bits per second; empty: try the usual ones. */
  readonly speed: string;
  readonly frame: SerialFrame;
}

export const emptyAddress: AddressFields = {
  way: 'network',
  host: '',
  port: String(usualTcpPort),
  path: '',
  speed: '',
  frame: '8N1',
};

/** The address that the fields name; null while they name none. */
export function readAddress({
  way,
  host,
  port,
  path,
  speed,
  frame,
}: AddressFields): InstrumentAddress | null {
  if (way === 'network') {
    const number = wholeNumber(port, 65_535);
    const name = host.trim();
    return number === null || !/^[A-Za-z0-9.:-]{1,253}$/.test(name)
      ? null
      : { kind: 'tcp', host: name, port: number };
  }
  const device = path.trim();
  if (!/^(\/dev\/[\w./-]+|COM\d{1,3})$/.test(device)) return null;
  if (speed.trim() === '') return { kind: 'serial', path: device, baudRate: null, frame };
  const baudRate = wholeNumber(speed, 1_000_000);
  return baudRate === null || baudRate < 300 ? null : { kind: 'serial', path: device, baudRate, frame };
}

/** Rated volts to earth as typed, in volts (V); null while it is no voltage above zero. */
export function readEarthVolts(text: string): number | null {
  const read = readQuantity(text, 'V');
  return read.ok && read.value > 0 && read.value <= 100_000 ? read.value : null;
}

/** "isolated, up to 500 V from earth" */
export function insulationWords({
  isolated,
  earthVolts,
}: Pick<KnownInstrument, 'isolated' | 'earthVolts'>): string {
  return isolated
    ? `isolated, its inputs up to ${formatQuantity(earthVolts, 'V')} from earth`
    : 'not isolated, so never above the safe voltage';
}

function wholeNumber(text: string, most: number): number | null {
  const value = /^\d{1,7}$/.test(text.trim()) ? Number(text) : 0;
  return value > 0 && value <= most ? value : null;
}
