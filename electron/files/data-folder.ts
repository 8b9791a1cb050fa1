import { isAbsolute, join, resolve } from 'node:path';

/** What decides where data is kept; given by the program, so that it can be tested. */
export interface Surroundings {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly platform: NodeJS.Platform;
  readonly home: string;
  /** The folder that a relative path starts from. */
  readonly cwd: string;
}

/**
 * The folder that builds, settings and the host's address are kept in: one for all faces.
 *
 * @param chosen `--data DIR`, if given; it comes before `KITWRIGHT_DATA`, which comes before the
 *   operating system's place for application data.
 */
export function dataFolder(chosen: string | undefined, surroundings: Surroundings): string {
  const { env, cwd } = surroundings;
  const named = chosen ?? nonEmpty(env['KITWRIGHT_DATA']);
  return named === undefined ? join(applicationData(surroundings), 'kitwright') : resolve(cwd, named);
}

/** XDG Base Directory Specification 0.8 (a relative XDG_CONFIG_HOME is ignored); Windows and macOS by their habit. */
function applicationData({ env, platform, home }: Surroundings): string {
  if (platform === 'win32') return nonEmpty(env['APPDATA']) ?? join(home, 'AppData', 'Roaming');
  if (platform === 'darwin') return join(home, 'Library', 'Application Support');
  const xdg = nonEmpty(env['XDG_CONFIG_HOME']);
  return xdg !== undefined && isAbsolute(xdg) ? xdg : join(home, '.config');
}

function nonEmpty(text: string | undefined): string | undefined {
  return text === undefined || text === '' ? undefined : text;
}
