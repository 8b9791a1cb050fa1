import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Where Electron's runtime is, found by looking and never by importing: the package's own entry would try to
 * download what is missing.
 *
 * @param packageFolder `node_modules/electron`.
 * @param override `ELECTRON_OVERRIDE_DIST_PATH`: a folder with the runtime.
 * @returns The program's path; null where there is none.
 */
export function findRuntime(
  packageFolder: string,
  override: string | undefined,
  platform: NodeJS.Platform,
): string | null {
  const note = join(packageFolder, 'path.txt');
  const noted = existsSync(note) ? readFileSync(note, 'utf8').trim() : '';
  const usual = { win32: 'electron.exe', darwin: 'Electron.app/Contents/MacOS/Electron' } as Partial<
    Record<NodeJS.Platform, string>
  >;
  const name = noted === '' ? (usual[platform] ?? 'electron') : noted;
  const program = override ? join(override, name) : join(packageFolder, 'dist', name);
  return existsSync(program) ? program : null;
}

/** Whether there is a screen to open something on. */
export function hasDisplay(
  env: Readonly<Record<string, string | undefined>>,
  platform: NodeJS.Platform,
): boolean {
  if (platform === 'win32' || platform === 'darwin') return !env['SSH_CONNECTION'];
  return Boolean(env['DISPLAY'] ?? env['WAYLAND_DISPLAY']);
}

/** The command that opens an address in the builder's own browser. */
export function openerOf(platform: NodeJS.Platform): {
  readonly command: string;
  readonly args: readonly string[];
} {
  if (platform === 'win32') return { command: 'rundll32', args: ['url.dll,FileProtocolHandler'] };
  return { command: platform === 'darwin' ? 'open' : 'xdg-open', args: [] };
}
