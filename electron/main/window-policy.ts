import type { WindowPlace } from '../../shared-core/contract/settings.ts';

/**
 * The decisions of the window, as pure functions: which page it may show, who may call, how it is opened.
 *
 * The program in `main.ts` only wires them up. They follow Electron's own published security checklist.
 */

/** The page's own scheme: pages from the disk (`file:`) could read every file. */
export const pageScheme = 'app';
export const pageHost = 'bundle';

/** The address of the page. */
export const pageUrl = `${pageScheme}://${pageHost}/index.html`;

/** Whether an address belongs to the app's own page; parsed, never compared by its beginning. */
export function isOwnPage(address: string): boolean {
  try {
    const { protocol, host, username, password, port } = new URL(address);
    return protocol === `${pageScheme}:` && host === pageHost && username + password + port === '';
  } catch {
    return false;
  }
}

/** Whether a message comes from the top frame of our own page. */
export function isTrustedSender(frame: { readonly url: string; readonly isTop: boolean } | null): boolean {
  return frame !== null && frame.isTop && isOwnPage(frame.url);
}

/** How the window's page is fenced in. */
export function pagePreferences(preload: string) {
  return {
    preload,
    contextIsolation: true,
    sandbox: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webSecurity: true,
    allowRunningInsecureContent: false,
    experimentalFeatures: false,
    webviewTag: false,
    navigateOnDragDrop: false,
    spellcheck: false,
  } as const;
}

const firstSize = { width: 1280, height: 800 };
const smallest = { width: 640, height: 480 };

/**
 * Where to open the window: the remembered place if it lies on a screen that is there, else the middle of the
 * first screen.
 *
 * @param remembered WindowPlace of the last time; null for none.
 * @param screens Work areas of the screens that are connected, the first one the main one.
 */
export function placeWindow(remembered: WindowPlace | null, screens: readonly WindowPlace[]): WindowPlace {
  const main = screens[0] ?? { x: 0, y: 0, ...firstSize };
  const home = remembered === null ? undefined : screens.find((screen) => holdsTitle(screen, remembered));
  const screen = home ?? main;
  const width = clamp(remembered?.width ?? firstSize.width, smallest.width, screen.width);
  const height = clamp(remembered?.height ?? firstSize.height, smallest.height, screen.height);
  if (home === undefined || remembered === null) {
    const x = screen.x + Math.round((screen.width - width) / 2);
    return { x, y: screen.y + Math.round((screen.height - height) / 2), width, height };
  }
  const x = clamp(remembered.x, screen.x, screen.x + screen.width - width);
  return { x, y: clamp(remembered.y, screen.y, screen.y + screen.height - height), width, height };
}

/** The middle of the title bar can be reached there. */
function holdsTitle(screen: WindowPlace, { x, y, width }: WindowPlace): boolean {
  const middle = x + width / 2;
  return (
    middle >= screen.x && middle < screen.x + screen.width && y >= screen.y && y < screen.y + screen.height
  );
}

function clamp(value: number, low: number, high: number): number {
  return Math.max(low, Math.min(value, Math.max(low, high)));
}

/** What the page may ask of the platform: that the screen stays lit while the amplifier is live. */
export function isPermitted(permission: string): boolean {
  return permission === 'screen-wake-lock';
}
