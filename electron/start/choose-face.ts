/** What the machine has, as far as it decides how Kitwright shows itself. */
export interface FaceFacts {
  /** `--browser` was given. */
  readonly wantsBrowser: boolean;
  /** The window's program is built. */
  readonly hasWindowProgram: boolean;
  /** Path of Electron's runtime; null where it is not on this machine. */
  readonly runtime: string | null;
  /** A screen to open a window on. */
  readonly hasDisplay: boolean;
  /** Run by Linux's root, for whom a window would open only without its sandbox. */
  readonly isRoot: boolean;
  /** `--no-open` was given. */
  readonly wantsNothingOpened: boolean;
}

/** The face to show, and why, as a sentence for the terminal. */
export type FaceChoice =
  | { readonly face: 'window'; readonly runtime: string; readonly why: string }
  | { readonly face: 'browser'; readonly opens: boolean; readonly why: string };

/** Window if its runtime is there, else the browser: equally good, and said which. */
export function chooseFace(facts: FaceFacts): FaceChoice {
  const opens = facts.hasDisplay && !facts.wantsNothingOpened;
  const browser = (why: string): FaceChoice => ({ face: 'browser', opens, why });
  if (facts.wantsBrowser) return browser('In the browser, as asked.');
  if (facts.wantsNothingOpened) return browser('In the browser, for you to open: --no-open was given.');
  if (!facts.hasDisplay) return browser('In the browser: there is no display for a window.');
  if (facts.isRoot)
    return browser('In the browser: a window does not open for root, whom it could not fence in.');
  if (!facts.hasWindowProgram) return browser("In the browser: the window's program is not built.");
  if (facts.runtime === null) {
    return browser("In the browser: Electron's runtime is not on this machine and could not be fetched.");
  }
  return { face: 'window', runtime: facts.runtime, why: 'In a window of its own.' };
}
