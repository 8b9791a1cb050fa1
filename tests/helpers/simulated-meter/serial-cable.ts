import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { existsSync, realpathSync, rmSync } from 'node:fs';
import { join } from 'node:path';

/** A serial cable to the simulated meter: a pseudo-terminal that socat joins to the meter's TCP port. */
export class SerialCable {
  private readonly link: string;
  private readonly port: number;
  private child: ChildProcess | null = null;

  constructor(folder: string, port: number) {
    this.link = join(folder, 'serial-port');
    this.port = port;
  }

  /** @returns The path of the port, as a program opens it. */
  async plugIn(): Promise<string> {
    rmSync(this.link, { force: true });
    const ends = [`pty,raw,echo=0,link=${this.link}`, `TCP:127.0.0.1:${this.port}`];
    const child = spawn('socat', ends, { stdio: 'ignore' });
    this.child = child;
    for (let waited = 0; !existsSync(this.link); waited += 10) {
      if (waited > 5000 || child.exitCode !== null) throw new Error('socat made no pseudo-terminal.');
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    return realpathSync(this.link);
  }

  /** Pulls the cable: the port is gone, as that of a USB adapter is. */
  async unplug(): Promise<void> {
    const { child } = this;
    this.child = null;
    if (child === null || child.exitCode !== null) return;
    const gone = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGKILL');
    await gone;
  }
}
