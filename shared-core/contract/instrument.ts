/** Data bits, parity and stop bits of a serial line, as the trade writes them. */
export const serialFrames = ['8N1', '8N2', '8E1', '7E1', '7E2', '7O1'] as const;
export type SerialFrame = (typeof serialFrames)[number];

/** Where an instrument answers. */
export type InstrumentAddress =
  | { readonly kind: 'tcp'; readonly host: string; readonly port: number }
  | {
      readonly kind: 'serial';
      /** `/dev/ttyUSB0`, `COM3`. */
      readonly path: string;
      /** In bits per second; null: try the usual ones. */
      readonly baudRate: number | null;
      readonly frame: SerialFrame;
    };

/** The port of SCPI over a plain TCP connection, by common practice (from memory: registered as scpi-raw). */
export const usualTcpPort = 5025;

/** An instrument that answered. */
export interface FoundInstrument {
  /** With the speed that it answered at. */
  readonly address: InstrumentAddress;
  /** Its answer to `*IDN?`, as sent: the same instrument gives the same. */
  readonly identity: string;
  /** For people: maker, model, serial number. */
  readonly name: string;
}

/** An instrument remembered between builds. What is said of its insulation is recorded anew in each build. */
export interface KnownInstrument extends FoundInstrument {
  /** Its inputs are isolated from earth and from the cable to this computer. */
  readonly isolated: boolean;
  /** Rated volts from its inputs to earth, in volts (V); 0 where not isolated. */
  readonly earthVolts: number;
}

/** A serial port of this machine. */
export interface SerialPortName {
  readonly path: string;
  /** What the machine knows of it: the maker of the adapter; empty when nothing. */
  readonly about: string;
}

/** An address in words: `192.168.1.20, port 5025`, `/dev/ttyUSB0 at 9600 bit/s, 8N1`. */
export function addressWords(address: InstrumentAddress): string {
  if (address.kind === 'tcp') return `${address.host}, port ${address.port}`;
  const speed = address.baudRate === null ? '' : ` at ${address.baudRate} bit/s`;
  return `${address.path}${speed}, ${address.frame}`;
}
