import { describe, expect, it } from 'vitest';
import { readCounts, settleCounts } from './counts.mjs';
import { runCommand } from './child.mjs';
import { runPool } from './pool.mjs';
import { mayBeAbsent, stages } from './stages.mjs';
import { ensurePoppler, ensureSocat } from './system-tools.mjs';

describe('the numbers of a test stage', () => {
  it('come from the report of vitest, with todo counted as skipped', () => {
    const report = { numPassedTests: 7, numFailedTests: 2, numPendingTests: 1, numTodoTests: 3 };
    expect(readCounts('vitest', JSON.stringify(report))).toEqual({ passed: 7, failed: 2, skipped: 4 });
  });

  it('come from the report of Playwright, with a flaky test counted as failed', () => {
    const report = { stats: { expected: 5, unexpected: 1, flaky: 2, skipped: 3 } };
    expect(readCounts('playwright', JSON.stringify(report))).toEqual({ passed: 5, failed: 3, skipped: 3 });
  });

  it('hold at least one failure when the runner failed without a failed test', () => {
    expect(settleCounts(1, { passed: 5, failed: 0, skipped: 0 }).failed).toBe(1);
    expect(settleCounts(1, undefined).failed).toBe(1);
  });

  it('hold a failure when no test ran', () => {
    expect(settleCounts(0, { passed: 0, failed: 0, skipped: 4 }).failed).toBe(1);
  });

  it('are left alone when all is well', () => {
    expect(settleCounts(0, { passed: 5, failed: 0, skipped: 1 })).toEqual({
      passed: 5,
      failed: 0,
      skipped: 1,
    });
  });
});

describe('runPool', () => {
  it('keeps the order and the width', async () => {
    let running = 0;
    let most = 0;
    const answers = await runPool(2, [30, 10, 20], async (milliseconds) => {
      most = Math.max(most, (running += 1));
      await new Promise((resolve) => setTimeout(resolve, milliseconds));
      running -= 1;
      return milliseconds;
    });
    expect({ answers, most }).toEqual({ answers: [30, 10, 20], most: 2 });
  });
});

describe('runCommand', () => {
  it('gives exit code and both outputs', async () => {
    const script = "console.log('out'); console.error('err'); process.exit(3)";
    const { code, output } = await runCommand(process.execPath, ['-e', script]);
    expect(code).toBe(3);
    expect(output).toContain('out');
    expect(output).toContain('err');
  });

  it('gives 127 for a command that does not exist', async () => {
    expect((await runCommand('no-such-command-here', [])).code).toBe(127);
  });
});

describe('npm test', () => {
  it('refuses a stage that does not exist', async () => {
    const { code, output } = await runCommand(process.execPath, ['tests/run.mjs', 'no-such-stage']);
    expect({ code, output }).toEqual({ code: 2, output: expect.stringContaining('no-such-stage') });
  });

  it('forgives absence only to stages that exist', () => {
    expect(stages.map(({ name }) => name)).toEqual(expect.arrayContaining(Object.keys(mayBeAbsent)));
  });
});

describe('what the tests need of the system', () => {
  const machine = (programs: readonly string[], isRoot: boolean) => {
    const there = new Set(programs);
    return {
      env: { PATH: '/usr/bin' },
      home: '/root',
      platform: 'linux' as const,
      isRoot,
      isProgram: (path: string) => there.has(path),
      list: () => [],
      run: (command: string, args: readonly string[]) => {
        if (command === 'apt-get' && args.includes('poppler-utils')) {
          there.add('/usr/bin/pdftotext').add('/usr/bin/pdftoppm');
        }
        if (command === 'apt-get' && args.includes('socat')) there.add('/usr/bin/socat');
        return true;
      },
    };
  };

  it('installs by apt as root', () => {
    expect(ensurePoppler(machine(['/usr/bin/apt-get'], true))).toEqual({ ok: true });
    expect(ensureSocat(machine(['/usr/bin/apt-get'], true))).toEqual({ ok: true });
  });

  it('names what is missing and how to install it otherwise', () => {
    const result = ensurePoppler(machine(['/usr/bin/apt-get', '/usr/bin/pdftotext'], false));
    expect(result).toEqual({
      ok: false,
      message: expect.stringMatching(/^pdftoppm not found.*poppler-utils/),
    });
    expect(ensureSocat(machine(['/usr/bin/apt-get'], false))).toEqual({
      ok: false,
      message: expect.stringMatching(/^serial ports: socat not found/),
    });
  });
});
