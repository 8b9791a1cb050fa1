import { findOnPath, thisMachine } from '../helpers/find-browser.mjs';

/** @typedef {import('../helpers/find-browser.mjs').Machine} Machine */

/** Programs that the tests of the PDF need, both from Debian's package poppler-utils. */
const popplerPrograms = ['pdftotext', 'pdftoppm'];

/**
 * Make sure that the programs which read PDF files are there, installing them by apt where that is allowed.
 *
 * @param {Machine} [machine] The machine to look at; this one by default.
 * @returns {{ ok: true } | { ok: false, message: string }} On failure, what to install.
 */
export function ensurePoppler(machine = thisMachine()) {
  const missing = () => popplerPrograms.filter((name) => !findOnPath(machine, name));
  if (missing().length > 0 && machine.isRoot && findOnPath(machine, 'apt-get')) {
    machine.run('apt-get', ['update', '-q']);
    machine.run('apt-get', ['install', '-y', '-q', '--no-install-recommends', 'poppler-utils']);
  }
  const absent = missing();
  if (absent.length === 0) return { ok: true };
  return {
    ok: false,
    message: `${absent.join(' and ')} not found: install poppler (Debian: apt-get install poppler-utils; macOS: brew install poppler).`,
  };
}
