import type {
  FoundInstrument,
  InstrumentAddress,
  SerialFrame,
} from '../../shared-core/contract/instrument.ts';
import { addressWords } from '../../shared-core/contract/instrument.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import type { MeterFunction } from '../../shared-core/units/scpi-function.ts';
import { instrumentName, readScpiIdentity } from '../../shared-core/units/scpi-identity.ts';
import type { Link, LinkHearer, OpenLink } from './link.ts';
import { Meter, usualWaits } from './meter.ts';
import type { MeterLook, MeterWaits } from './meter.ts';
import { openSerial } from './open-serial.ts';
import { openTcp } from './open-tcp.ts';
import { ScpiSession } from './scpi-session.ts';

/** After this long without a question an instrument is let go, in milliseconds (ms): others may want it. */
const idleMs = 15_000;

/** Speeds and frames that bench instruments are set to, most usual first: common practice, no source. */
const usualLines: readonly (readonly [number, SerialFrame])[] = [
  [9600, '8N1'],
  [115_200, '8N1'],
  [19_200, '8N1'],
  [38_400, '8N1'],
  [57_600, '8N1'],
  [9600, '7E2'],
];

/** How long each of them may take, in milliseconds (ms). */
const tryMs = 700;

/** After these a line is opened anew, out of step as it may be: an answer that is still on its way would be taken for the next one. */
const lost: ReadonlySet<string> = new Set([
  'instrument/unplugged',
  'instrument/no-answer',
  'instrument/not-understood',
]);

/** An open instrument, and whoever waits for it. */
interface Held {
  readonly meter: Meter;
  readonly identity: string;
  readonly address: InstrumentAddress;
  timer: NodeJS.Timeout | undefined;
}

/** Opens an address: by network, or by serial port at a stated speed. */
async function openLink(address: InstrumentAddress, hearer: LinkHearer): Promise<Result<Link>> {
  if (address.kind === 'tcp') return openTcp(address, hearer);
  return openSerial({ ...address, baudRate: address.baudRate ?? 9600 }, hearer);
}

/** The instruments in use: opened when asked, let go when not, found again after being unplugged. */
export class InstrumentDesk {
  private readonly open: OpenLink<InstrumentAddress>;
  private readonly waits: MeterWaits;
  private readonly held = new Map<string, Held>();
  private turns: Promise<unknown> = Promise.resolve();

  constructor(waits: MeterWaits = usualWaits, open: OpenLink<InstrumentAddress> = openLink) {
    this.waits = waits;
    this.open = open;
  }

  /** Who answers at an address; on a serial port without a stated speed the usual ones are tried. */
  find(address: InstrumentAddress): Promise<Result<FoundInstrument>> {
    return this.inTurn(async () => {
      this.letGo(lineOf(address));
      if (address.kind === 'tcp' || address.baudRate !== null) return foundOf(await this.hold(address));
      for (const [baudRate, frame] of usualLines) {
        const held = await this.hold({ ...address, baudRate, frame }, tryMs);
        if (held.ok) return foundOf(held);
        if (held.problems[0].code !== 'instrument/no-answer') return held;
      }
      return fail(silentPort(address.path));
    });
  }

  /** The number on a meter for a reading. */
  look(
    { address, identity }: Pick<FoundInstrument, 'address' | 'identity'>,
    wanted: MeterFunction,
  ): Promise<Result<MeterLook>> {
    return this.inTurn(async () => {
      const line = lineOf(address);
      if (this.held.get(line)?.meter.session.isOver === true) this.letGo(line);
      const open = this.held.get(line);
      const held = open === undefined ? await this.hold(address) : succeed(open);
      if (!held.ok) return held;
      if (held.value.identity !== identity) {
        this.letGo(line);
        return fail(otherOne(address, held.value.identity));
      }
      const look = await held.value.meter.look(wanted);
      const isLost = !look.ok && lost.has(look.problems[0].code);
      if (isLost) this.letGo(line);
      else this.wind(line, held.value);
      return look;
    });
  }

  close(): void {
    for (const line of this.held.keys()) this.letGo(line);
  }

  /** Opens an instrument and asks who it is. */
  private async hold(address: InstrumentAddress, waitMs = this.waits.settingMs): Promise<Result<Held>> {
    const session = new ScpiSession();
    const link = await this.open(address, session);
    if (!link.ok) return link;
    session.start(link.value);
    const meter = new Meter(session, this.waits);
    const who = await meter.identify(waitMs);
    if (!who.ok) {
      session.close();
      return who;
    }
    const held: Held = { meter, identity: who.value, address, timer: undefined };
    this.held.set(lineOf(address), held);
    this.wind(lineOf(address), held);
    return succeed(held);
  }

  private wind(line: string, held: Held): void {
    clearTimeout(held.timer);
    held.timer = setTimeout(() => this.letGo(line), idleMs);
    held.timer.unref();
  }

  private letGo(line: string): void {
    const held = this.held.get(line);
    clearTimeout(held?.timer);
    held?.meter.session.close();
    this.held.delete(line);
  }

  /** One thing at a time: a bench has few instruments, and a serial port only one user. */
  private inTurn<Value>(work: () => Promise<Value>): Promise<Value> {
    const mine = this.turns.then(work);
    this.turns = mine.catch(() => undefined);
    return mine;
  }
}

/** The line that is open: a port has one speed at a time. */
function lineOf(address: InstrumentAddress): string {
  return address.kind === 'tcp' ? `${address.host} ${address.port}` : address.path;
}

function foundOf(held: Result<Held>): Result<FoundInstrument> {
  if (!held.ok) return held;
  const { address, identity } = held.value;
  const read = readScpiIdentity(identity);
  return succeed({ address, identity, name: read === null ? identity : instrumentName(read) });
}

function otherOne(address: InstrumentAddress, identity: string): KitProblem {
  return {
    code: 'instrument/other-one',
    severity: 'error',
    message: `Another instrument answers at ${addressWords(address)}: ${identity.slice(0, 80)}`,
    hint: 'Plug the recorded one in, or add this one in the settings and record it. You can always type the reading.',
  };
}

function silentPort(path: string): KitProblem {
  return {
    code: 'instrument/no-answer',
    severity: 'error',
    message: `Nothing on ${path} answers *IDN? at the usual speeds`,
    hint: 'Look up the speed in the instrument’s interface menu and state it; the cable may need to be a crossed one (null modem).',
  };
}
