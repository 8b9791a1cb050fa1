import { homedir } from 'node:os';
import { fileURLToPath } from 'node:url';
import { BrowserWindow, app, protocol, screen, session } from 'electron';
import { createEngine } from '../engine-worker/engine.ts';
import { openWorkplace } from '../engine-worker/workplaces.ts';
import { dataFolder } from '../files/data-folder.ts';
import { ownKitFolders, ownRendererFolder } from '../files/kits-folder.ts';
import type { SettingsPort } from '../files/settings-file.ts';
import { readPageFiles } from '../host/page-files.ts';
import { systemClock } from '../services/clock.ts';
import { beatMs } from '../services/heart.ts';
import { createServices } from '../services/services.ts';
import type { Services } from '../services/services.ts';
import { appVersion } from '../services/version.ts';
import { readStartOptions } from '../start/start-options.ts';
import { answerPage } from './answer-page.ts';
import { serveWindow } from './serve-window.ts';
import { openWindowSettings } from './window-settings.ts';
import {
  isOwnPage,
  isPermitted,
  pagePreferences,
  pageScheme,
  pageUrl,
  placeWindow,
} from './window-policy.ts';

const privileges = { standard: true, secure: true, supportFetchAPI: true };
protocol.registerSchemesAsPrivileged([{ scheme: pageScheme, privileges }]);
app.enableSandbox();

const options = readStartOptions(process.argv.slice(app.isPackaged ? 1 : 2));
if (typeof options === 'string') {
  console.error(options);
  app.exit(2);
} else if (!app.requestSingleInstanceLock()) {
  app.quit();
} else {
  await app.whenReady();
  await openApp(options.data, options.kit);
}

/** Starts the services and opens the one window. */
async function openApp(data: string | undefined, kit: string | null): Promise<void> {
  const { env, platform } = process;
  const folder = dataFolder(data, { env, platform, home: homedir(), cwd: process.cwd() });
  const { settings, setAside } = openWindowSettings(folder);
  if (setAside !== null) console.log(`The settings could not be read. They are set aside as ${setAside}.`);
  const services = createServices({
    dataFolder: folder,
    clock: systemClock,
    engine: createEngine(openWorkplace()),
    settings,
    kitFolders: ownKitFolders(),
    face: 'window',
    version: appVersion(),
  });
  services.ask(kit);
  await servePage();
  fence();
  openWindow(services, settings);
  keepBeating(services);
}

async function servePage(): Promise<void> {
  const files = await readPageFiles(ownRendererFolder());
  protocol.handle(pageScheme, ({ method, url }) => {
    const { status, headers, bytes } = answerPage(files, method, url);
    return new Response(Buffer.from(bytes), { status, headers });
  });
}

/** Next to nothing is permitted that the page could ask for, and it stays where it is. */
function fence(): void {
  session.defaultSession.setPermissionRequestHandler((_contents, permission, decide) =>
    decide(isPermitted(permission)),
  );
  session.defaultSession.setPermissionCheckHandler((_contents, permission) => isPermitted(permission));
  session.defaultSession.setDevicePermissionHandler(() => false);
  app.on('web-contents-created', (_event, contents) => {
    contents.setWindowOpenHandler(() => ({ action: 'deny' }));
    contents.on('will-attach-webview', (event) => event.preventDefault());
    contents.on('will-navigate', (event) => {
      if (!isOwnPage(event.url)) event.preventDefault();
    });
  });
}

function openWindow(services: Services, settings: SettingsPort): void {
  const screens = screen.getAllDisplays().map((display) => display.workArea);
  const preload = fileURLToPath(new URL('../../build/preload/preload.cjs', import.meta.url));
  const window = new BrowserWindow({
    ...placeWindow(settings.get().window, screens),
    title: 'Kitwright',
    autoHideMenuBar: true,
    webPreferences: pagePreferences(preload),
  });
  window.on('close', () => settings.set({ window: window.getNormalBounds() }));
  serveWindow(services, window);
  app.on('second-instance', () => {
    if (window.isMinimized()) window.restore();
    window.focus();
  });
  void window.loadURL(pageUrl);
}

function keepBeating(services: Services): void {
  const heart = setInterval(() => void services.beat(), beatMs);
  app.on('window-all-closed', () => {
    clearInterval(heart);
    void services.close().finally(() => app.quit());
  });
}
