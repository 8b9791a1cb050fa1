import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

/**
 * When a process was started, as text that only that process has; null when there is no such process.
 *
 * A process id is given out again after its process has ended; id and start together are not. The empty
 * text stands for a process that runs but does not tell its start.
 */
export function processStart(pid: number): string | null {
  if (!Number.isInteger(pid) || pid <= 0 || !isRunning(pid)) return null;
  try {
    return process.platform === 'linux' ? linuxStart(pid) : askSystem(pid);
  } catch {
    // It may have ended while we asked.
    return isRunning(pid) ? '' : null;
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/**
 * Field 22 of /proc/PID/stat: clock ticks since the system came up; with the id of that coming up.
 *
 * The second field, a name in brackets, may hold spaces and brackets itself. A process that has ended and
 * waits to be fetched (state Z) does nothing any more.
 */
function linuxStart(pid: number): string | null {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
  const [state, ...rest] = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  if (state === 'Z' || state === 'X') return null;
  const bootId = readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
  return `${bootId}:${rest[18] ?? ''}`;
}

function askSystem(pid: number): string {
  const [command, args] =
    process.platform === 'win32'
      ? (['powershell', ['-NoProfile', '-Command', `(Get-Process -Id ${pid}).StartTime.Ticks`]] as const)
      : (['ps', ['-o', 'lstart=', '-p', String(pid)]] as const);
  return execFileSync(command, args, {
    encoding: 'utf8',
    timeout: 5000,
    stdio: ['ignore', 'pipe', 'ignore'],
  }).trim();
}
