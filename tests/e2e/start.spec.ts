import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { words } from '../helpers/screen/words.ts';
import { expect, test as screenTest } from '../helpers/screen/screen-test.ts';
import { root, runCommand } from '../run/child.mjs';

/** `npm start` on a data folder of the test's own. */
interface Started {
  readonly child: ChildProcess;
  readonly output: () => string;
  readonly ended: Promise<number | null>;
}

const test = screenTest.extend<{ readonly data: string }>({
  // oxlint-disable-next-line no-empty-pattern
  data: async ({}, use) => {
    const folder = mkdtempSync(join(tmpdir(), 'kitwright-start-'));
    await use(folder);
    rmSync(folder, { recursive: true, force: true });
  },
});

function npmStart(data: string, ...more: readonly string[]): Started {
  const args = ['start', '--', '--no-open', '--data', data, ...more];
  const windows = process.platform === 'win32';
  const child = spawn('npm', args, {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
    shell: windows,
    detached: !windows,
  });
  let output = '';
  for (const stream of [child.stdout, child.stderr])
    stream?.on('data', (piece: Buffer) => (output += piece.toString()));
  const ended = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)));
  return { child, output: () => output, ended };
}

/** The address that was printed. */
async function addressOf({ output }: Started): Promise<string> {
  await expect.poll(output, { timeout: 60_000 }).toMatch(/http:\/\/127\.0\.0\.1:\d+\/#token=/);
  return /http:\S+/.exec(output())?.[0] ?? '';
}

/** Ctrl+C in a terminal reaches npm and what it started. */
function pressCtrlC({ child }: Started): void {
  if (child.pid !== undefined) process.kill(-child.pid, 'SIGINT');
}

test('says which face and why, serves the shelf, and ends cleanly with Ctrl+C', async ({
  page,
  data,
  guard,
}) => {
  test.setTimeout(120_000);
  test.skip(process.platform === 'win32', 'Windows has no process groups to press Ctrl+C in.');
  const first = npmStart(data);
  const url = await addressOf(first);
  expect(first.output()).toMatch(/^In the browser\b.*--no-open/m);
  expect(first.output()).toContain(`Builds are kept in ${data}.`);
  await page.goto(url);
  await expect(page.getByRole('button', { name: words.begin })).toBeVisible();

  const second = npmStart(data);
  expect(await addressOf(second)).toBe(url);
  expect(await second.ended).toBe(0);
  expect(second.output()).toContain('Kitwright is running already.');

  guard.setHostAway(true);
  pressCtrlC(first);
  // npm itself ends by the signal; what it started has said goodbye and taken its note away.
  await first.ended;
  await expect.poll(first.output).toContain('Kitwright is closed.');
  expect(existsSync(join(data, 'host.json'))).toBe(false);
});

test('refuses a folder without a kit and a flag that it does not know', async ({ data }) => {
  test.setTimeout(120_000);
  const noKit = npmStart(data, data);
  expect(await noKit.ended).not.toBe(0);
  expect(noKit.output()).toContain('kit.yaml');
  const noFlag = npmStart(data, '--flag-of-nobody');
  expect(await noFlag.ended).not.toBe(0);
  expect(noFlag.output()).toContain('Usage: npm start');
});

test('tells by its exit code whether a kit is fine, has findings, or could not be read', async () => {
  test.setTimeout(120_000);
  const run = async (...args: readonly string[]): Promise<number> =>
    (await runCommand('node', ['electron/cli/kitwright.mjs', ...args])).code;
  expect(await run('check', 'kits/heron')).toBe(0);
  expect(await run('check', 'tests/fixtures/kits/twenty-mistakes')).toBe(1);
  expect(await run('check', 'kits/no-such-kit')).toBe(2);
  expect(await run('drain', 'kits/heron')).toBe(0);
});
