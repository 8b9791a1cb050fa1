import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { readRecord } from '../../../shared-core/journal/read-record.ts';
import type { KitProblem } from '../../../shared-core/problem/problem.ts';
import { replaceFile } from '../../files/atomic-file.ts';
import { readTextFile } from '../../files/read-text-file.ts';
import { sha256 } from '../../files/sha256.ts';
import { reportPdfOf } from '../../services/report-pdf.ts';
import type { Command } from '../command.ts';
import { couldNot, couldNotFor } from '../command.ts';
import { kitPathAsGiven } from '../kit-path.ts';

/** Largest record that is read, in bytes: a few dozen photos. */
const largestRecord = 70_000_000;

/** `kitwright report RECORD --out FILE`: the PDF report of a build's record. */
export const reportCommand: Command = {
  name: 'report',
  summary: "Write the PDF report of a build from the builder's record",
  positionals: ['RECORD'],
  options: { out: { value: 'FILE', help: 'the PDF to write; an older file of that name is replaced' } },
  examples: ['kitwright report heron.kitwright.json --out heron.pdf'],
  run: async (given, io) => {
    const out = given.value('out');
    if (out === undefined) {
      const message = '--out is missing: where should the PDF go?';
      const hint = 'Write kitwright report RECORD --out FILE.';
      return couldNotFor({ code: 'command/missing', severity: 'error', message, hint });
    }
    const text = await readTextFile(resolve(io.cwd, given.positionals[0] ?? ''), largestRecord);
    if (!text.ok) return couldNot(text);
    const record = readRecord(text.value, sha256);
    if (!record.ok) return couldNot(record);
    const bytes = await reportPdfOf(
      record.value,
      record.warnings.map(({ message }) => message),
    );
    const path = resolve(io.cwd, out);
    const problem = await writeOut(path, bytes);
    if (problem) return couldNotFor(problem);
    const { kit, build } = record.value;
    const shown = kitPathAsGiven(out, io);
    return {
      kind: 'answer',
      json: { format: 'kitwright-report/1', file: path, bytes: bytes.length, problems: record.warnings },
      text: `${shown}: report of ${kit.name}, revision ${kit.revision}, build ${build.build.slice(0, 8)}, ${Math.ceil(bytes.length / 1000)} kB`,
      hasFindings: record.warnings.length > 0,
      warnings: record.warnings,
    };
  },
};

async function writeOut(path: string, bytes: Uint8Array): Promise<KitProblem | null> {
  try {
    if ((await stat(path).catch(() => null))?.isDirectory()) {
      const hint = 'Name the file itself: --out report.pdf.';
      return { code: 'file/not-written', severity: 'error', message: `"${path}" is a folder`, hint };
    }
    await replaceFile(path, bytes);
    return null;
  } catch (error) {
    const why = (error as NodeJS.ErrnoException).code ?? String(error);
    const message = `"${path}" cannot be written: ${why}`;
    const hint = 'Does its folder exist, and is the file open in another program?';
    return { code: 'file/not-written', severity: 'error', message, hint };
  }
}
