import { lookup } from 'node:dns/promises';
import { createConnection } from 'node:net';
import type { Socket } from 'node:net';
import type { InstrumentAddress } from '../../shared-core/contract/instrument.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import type { Link, LinkHearer } from './link.ts';
import { isLocalAddress } from './local-address.ts';

/** How long an instrument may take to accept a connection, in milliseconds (ms). */
const connectMs = 3000;

type TcpAddress = Extract<InstrumentAddress, { kind: 'tcp' }>;

/** Connects to an instrument in the builder's own network. */
export async function openTcp(address: TcpAddress, hearer: LinkHearer): Promise<Result<Link>> {
  const found = await soon(lookup(address.host).catch(() => null));
  if (found === null) return fail(notReached(address, 'there is no such name or address'));
  if (!isLocalAddress(found.address, found.family === 6 ? 6 : 4)) return fail(notLocal(address));
  const socket = createConnection({ host: found.address, port: address.port, noDelay: true });
  const why = await connected(socket);
  if (why !== null) {
    socket.destroy();
    return fail(notReached(address, why));
  }
  let isOpen = true;
  const end = (): void => {
    if (isOpen) hearer.ended();
    isOpen = false;
  };
  socket.setEncoding('latin1');
  socket.on('data', (piece: string | Buffer) => hearer.text(String(piece)));
  socket.on('error', () => undefined);
  socket.on('end', end);
  socket.on('close', end);
  return succeed({
    write: (text) => void socket.write(text, 'latin1'),
    close: () => {
      isOpen = false;
      socket.destroy();
    },
  });
}

/** @returns Why not, in words; null once connected. */
function connected(socket: Socket): Promise<string | null> {
  return new Promise((resolve) => {
    const timer = setTimeout(() => resolve(`nothing answers within ${connectMs / 1000} s`), connectMs);
    const tell = (why: string | null): void => {
      clearTimeout(timer);
      resolve(why);
    };
    socket.once('connect', () => tell(null));
    socket.once('error', (error: NodeJS.ErrnoException) => tell(wordsOf(error)));
  });
}

function wordsOf({ code = '' }: NodeJS.ErrnoException): string {
  if (code === 'ECONNREFUSED') return 'nothing listens on this port';
  if (code === 'EHOSTUNREACH' || code === 'ENETUNREACH') return 'there is no way to this address';
  return code === '' ? 'the connection failed' : `the connection failed (${code})`;
}

/** A name that cannot be looked up in time is none. */
function soon<Value>(work: Promise<Value>): Promise<Value | null> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<null>((resolve) => {
    timer = setTimeout(() => resolve(null), connectMs);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
}

function notReached({ host, port }: TcpAddress, why: string): KitProblem {
  return {
    code: 'instrument/not-reached',
    severity: 'error',
    message: `No instrument is reached at ${host}, port ${port}: ${why}`,
    hint: 'Look at its network menu for address and port, and that it is switched on. You can always type the reading.',
  };
}

function notLocal({ host }: TcpAddress): KitProblem {
  return {
    code: 'instrument/not-local',
    severity: 'error',
    message: `${host} is not an address of your own network`,
    hint: 'Kitwright speaks to instruments on this computer or in your own network only.',
  };
}
