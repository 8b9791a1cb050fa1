import { execFileSync } from 'node:child_process';

/** The text of a PDF in the order of its content, without any blanks: how lines are broken does not matter. */
export function pdfText(path: string): string {
  return withoutBlanks(execFileSync('pdftotext', ['-raw', path, '-'], { encoding: 'utf8' }));
}

export function withoutBlanks(text: string): string {
  return text.replace(/[\s\u00a0\u202f]+/g, '');
}
