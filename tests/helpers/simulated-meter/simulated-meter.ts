import { createServer } from 'node:net';
import type { Server, Socket } from 'node:net';

/** What the simulated meter is set to and shows; a test changes it as a builder would turn the meter. */
export interface MeterFace {
  /** As it answers CONF?: `VOLT`, `VOLT:AC`, `RES`. */
  function: string;
  range: number;
  /** In volts or ohms (V, Ω). */
  shows: number;
  /** Time that a reading takes, in milliseconds (ms). */
  readingMs: number;
  /** Answers nothing at all, as with the wrong speed or a program that hangs. */
  isMute: boolean;
  /** Does not know CONF?, as older meters. */
  knowsConf: boolean;
  identity: string;
}

/** A small instrument that speaks SCPI over TCP; by way of socat also over a serial port. */
export class SimulatedMeter {
  readonly face: MeterFace = {
    function: 'VOLT',
    range: 1000,
    shows: 0,
    readingMs: 5,
    isMute: false,
    knowsConf: true,
    identity: 'LARKFIELD,DM-1,1024,1.0',
  };
  /** Every line that it was sent. */
  readonly asked: string[] = [];
  private server: Server | null = null;
  private readonly sockets = new Set<Socket>();
  private port_ = 0;

  get port(): number {
    return this.port_;
  }

  /** Plugs it in: at the port it had before, if any. */
  async plugIn(): Promise<void> {
    const server = createServer((socket) => this.serve(socket));
    await new Promise<void>((resolve) => server.listen(this.port_, '127.0.0.1', resolve));
    const address = server.address();
    this.port_ = typeof address === 'object' && address !== null ? address.port : 0;
    this.server = server;
  }

  /** Pulls its cable: every connection ends at once, and nothing listens any more. */
  async unplug(): Promise<void> {
    const { server } = this;
    this.server = null;
    const closed = new Promise<void>((resolve) => (server ? server.close(() => resolve()) : resolve()));
    for (const socket of this.sockets) socket.destroy();
    await closed;
  }

  private serve(socket: Socket): void {
    this.sockets.add(socket);
    socket.on('close', () => this.sockets.delete(socket));
    socket.on('error', () => undefined);
    let rest = '';
    socket.on('data', (piece: Buffer) => {
      const lines = (rest + piece.toString('latin1')).split('\n');
      rest = lines.pop() ?? '';
      for (const line of lines) this.obey(line.trim(), socket);
    });
  }

  private obey(line: string, socket: Socket): void {
    if (line === '') return;
    this.asked.push(line);
    const { face } = this;
    if (face.isMute) return;
    const answer = (text: string): void => void socket.write(`${text}\n`);
    switch (line.toUpperCase()) {
      case '*IDN?':
        return answer(face.identity);
      case 'CONF?':
        return face.knowsConf
          ? answer(`"${face.function} ${nr3(face.range)},${nr3(face.range * 1e-6)}"`)
          : undefined;
      case 'FUNC?':
        return answer(`"${face.function}"`);
      case 'READ?':
        setTimeout(() => answer(nr3(face.shows)), face.readingMs);
        return undefined;
      default:
        // −113, undefined header: an instrument then says nothing, and keeps the error for SYST:ERR?.
        return undefined;
    }
  }
}

/** NR3 as bench meters send it: +1.23456789E+02. */
function nr3(value: number): string {
  const [mantissa = '0', power = '0'] = value.toExponential(8).split('e');
  const sign = mantissa.startsWith('-') ? '' : '+';
  const exponent = Number(power);
  return `${sign}${mantissa}E${exponent < 0 ? '-' : '+'}${String(Math.abs(exponent)).padStart(2, '0')}`;
}
