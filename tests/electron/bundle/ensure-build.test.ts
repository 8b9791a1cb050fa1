import { existsSync, mkdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ensureBuild } from '../../../electron/bundle/ensure-build.mjs';
import { writeSmallProject } from '../../helpers/small-project.ts';

// Stands in for the bundler: counts its runs and writes the program, so that the test takes no build.
const fakeBuild = `
  import { appendFileSync, mkdirSync, writeFileSync } from 'node:fs';
  appendFileSync('runs', process.argv.slice(2).join() + ';');
  mkdirSync('build/node', { recursive: true });
  writeFileSync('build/node/cli.js', '');
`;

let project: ReturnType<typeof writeSmallProject>;
const at = (path: string) => join(project.folder, path);

beforeEach(() => {
  project = writeSmallProject({ 'electron/bundle/build.mjs': fakeBuild });
});
afterEach(() => project.remove());

describe('ensureBuild', () => {
  it('builds when there is no build, and gives the program', async () => {
    expect(await ensureBuild('cli', { root: project.folder })).toEqual({
      ok: true,
      path: at('build/node/cli.js'),
    });
    // A program needs the part for Node alone, so the screen is not waited for.
    expect(readFileSync(at('runs'), 'utf8')).toBe('node;');
    expect(existsSync(at('build/.building'))).toBe(false);
  });

  it('waits for another program that is building instead of building too', async () => {
    mkdirSync(at('build/.building'), { recursive: true });
    const waiting = ensureBuild('cli', { root: project.folder });
    await new Promise((resolve) => setTimeout(resolve, 50));
    mkdirSync(at('build/node'), { recursive: true });
    writeFileSync(at('build/node/cli.js'), '');
    rmSync(at('build/.building'), { recursive: true });
    expect((await waiting).ok).toBe(true);
    expect(existsSync(at('runs'))).toBe(false);
  });

  it('does not build again when there is one', async () => {
    mkdirSync(at('build/node'), { recursive: true });
    writeFileSync(at('build/node/cli.js'), '');
    expect((await ensureBuild('cli', { root: project.folder })).ok).toBe(true);
    expect(existsSync(at('runs'))).toBe(false);
  });

  it('builds again for a newer source only when asked to', async () => {
    mkdirSync(at('build/node'), { recursive: true });
    writeFileSync(at('build/node/cli.js'), '');
    utimesSync(at('build/node/cli.js'), 1, 1);
    await ensureBuild('cli', { root: project.folder });
    expect(existsSync(at('runs'))).toBe(false);
    await ensureBuild('cli', { root: project.folder, whenStale: true });
    expect(existsSync(at('runs'))).toBe(true);
  });

  it('builds again when the screen is needed and absent', async () => {
    mkdirSync(at('build/node'), { recursive: true });
    writeFileSync(at('build/node/cli.js'), '');
    const built = await ensureBuild('cli', { root: project.folder, whole: true });
    expect(readFileSync(at('runs'), 'utf8')).toBe(';');
    // The stand-in writes no page: that is a failed build, whatever its exit code says.
    expect(built.ok).toBe(false);
  });

  it('says how to install the build tools where they are absent', async () => {
    rmSync(at('node_modules'));
    const built = await ensureBuild('cli', { root: project.folder });
    expect(built).toEqual({ ok: false, message: expect.stringContaining('npm ci') });
  });

  it('hands on what the bundler said when it fails', async () => {
    writeFileSync(at('electron/bundle/build.mjs'), "console.error('no such entry'); process.exitCode = 1;");
    const built = await ensureBuild('cli', { root: project.folder });
    expect(built).toEqual({ ok: false, message: expect.stringContaining('no such entry') });
    expect(existsSync(at('build/.building'))).toBe(false);
  });
});
