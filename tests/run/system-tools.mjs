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
  const absent = afterInstalling(popplerPrograms, 'poppler-utils', machine);
  if (absent.length === 0) return { ok: true };
  return {
    ok: false,
    message: `${absent.join(' and ')} not found: install poppler (Debian: apt-get install poppler-utils; macOS: brew install poppler).`,
  };
}

/**
 * The same for the program that makes the pseudo-terminals of the serial tests: without it they are skipped.
 *
 * @param {Machine} [machine] The machine to look at; this one by default.
 * @returns {{ ok: true } | { ok: false, message: string }} On failure, what is not tested, and what to install.
 */
export function ensureSocat(machine = thisMachine()) {
  if (afterInstalling(['socat'], 'socat', machine).length === 0) return { ok: true };
  return {
    ok: false,
    message: 'serial ports: socat not found (Debian: apt-get install socat; macOS: brew install socat).',
  };
}

/**
 * @param {readonly string[]} programs What is needed.
 * @param {string} debianPackage Where Debian has it.
 * @param {Machine} machine The machine to look at.
 * @returns {readonly string[]} What is missing after what could be done.
 */
function afterInstalling(programs, debianPackage, machine) {
  const missing = () => programs.filter((name) => !findOnPath(machine, name));
  if (missing().length > 0 && machine.isRoot && findOnPath(machine, 'apt-get')) {
    machine.run('apt-get', ['update', '-q']);
    machine.run('apt-get', ['install', '-y', '-q', '--no-install-recommends', debianPackage]);
  }
  return missing();
}
