import type * as serialport from 'serialport';
import type {
  InstrumentAddress,
  SerialFrame,
  SerialPortName,
} from '../../shared-core/contract/instrument.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import type { Link, LinkHearer } from './link.ts';

type SerialAddress = Extract<InstrumentAddress, { kind: 'serial' }>;
type SerialLibrary = Pick<typeof serialport, 'SerialPort'>;

/** The library brings a native part and is optional: without it everything else works. */
async function loadSerial(): Promise<SerialLibrary | null> {
  try {
    return await import('serialport');
  } catch {
    return null;
  }
}

/** The serial ports of this machine. */
export async function listSerialPorts(load = loadSerial): Promise<Result<readonly SerialPortName[]>> {
  const library = await load();
  if (library === null) return fail(noSerial);
  try {
    const ports = await library.SerialPort.list();
    // Linux lists ports that are soldered in, whether anything is on them or not; adapters have a maker.
    const sorted = ports.toSorted((a, b) => Number(b.vendorId != null) - Number(a.vendorId != null));
    return succeed(sorted.map(({ path, manufacturer }) => ({ path, about: manufacturer ?? '' })));
  } catch {
    return succeed([]);
  }
}

/** Opens a serial port at a stated speed. */
export async function openSerial(
  address: SerialAddress & { readonly baudRate: number },
  hearer: LinkHearer,
  load = loadSerial,
): Promise<Result<Link>> {
  const library = await load();
  if (library === null) return fail(noSerial);
  const { path, baudRate, frame } = address;
  const port = new library.SerialPort({ path, baudRate, ...frameOf(frame), autoOpen: false });
  port.on('error', () => undefined);
  const why = await opened(port);
  if (why !== null) return fail(notReached(path, why));
  let isOpen = true;
  port.on('data', (piece: Buffer) => hearer.text(piece.toString('latin1')));
  port.on('close', () => {
    if (isOpen) hearer.ended();
    isOpen = false;
  });
  return succeed({
    write: (text) => void port.write(text, 'latin1'),
    close: () => {
      isOpen = false;
      if (port.isOpen) port.close(() => undefined);
    },
  });
}

/** @returns Why not, in words; null once open. */
function opened(port: serialport.SerialPort): Promise<string | null> {
  return new Promise((resolve) => {
    port.open((error) => resolve(error === null ? null : wordsOf(error.message)));
  });
}

function wordsOf(message: string): string {
  if (/no such file|file not found/i.test(message)) return 'it is not there';
  if (/permission denied|access denied/i.test(message)) return 'this account may not use it';
  if (/lock|busy|temporarily unavailable/i.test(message)) return 'another program uses it';
  return message;
}

const parities = { N: 'none', E: 'even', O: 'odd' } as const;

function frameOf(frame: SerialFrame) {
  return {
    dataBits: frame.startsWith('7') ? (7 as const) : (8 as const),
    parity: parities[frame.charAt(1) as keyof typeof parities],
    stopBits: frame.endsWith('2') ? (2 as const) : (1 as const),
  };
}

function notReached(path: string, why: string): KitProblem {
  return {
    code: 'instrument/not-reached',
    severity: 'error',
    message: `The serial port ${path} could not be opened: ${why}`,
    hint: 'Plug the adapter in, close what else uses it; on Linux your account must be in the group of serial ports (dialout). You can always type the reading.',
  };
}

const noSerial: KitProblem = {
  code: 'instrument/no-serial',
  severity: 'error',
  message: 'The library for serial ports is not installed on this machine',
  hint: 'npm install --include=optional brings it. Instruments on the network work without it, and you can always type the reading.',
};
