import { mkdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { gatherCsv } from '../../../shared-core/feedback/gather-csv.ts';
import type { GatherReport } from '../../../shared-core/feedback/gather-report.ts';
import { jointsOf } from '../../../shared-core/feedback/joints.ts';
import { type KitAtHand, summariseFleet } from '../../../shared-core/feedback/summarise-fleet.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { KitProblem, Result } from '../../../shared-core/problem/problem.ts';
import { succeed } from '../../../shared-core/problem/problem.ts';
import { replaceFile } from '../../files/atomic-file.ts';
import { gatherRecords } from '../../services/gather-records.ts';
import { openKit } from '../../services/open-kit.ts';
import type { Command, CommandIo } from '../command.ts';
import { couldNot, couldNotFor } from '../command.ts';
import { gatherText } from '../gather-text.ts';
import { kitPathAsGiven } from '../kit-path.ts';

/** `kitwright gather FOLDER|RECORD …`: what many builders' records say of a kit. */
export const gatherCommand: Command = {
  name: 'gather',
  summary: "Learn from many builders' records where builds and predictions go wrong",
  positionals: ['FOLDER|RECORD'],
  repeatsLast: true,
  options: {
    kit: {
      value: 'KIT',
      help: 'the kit itself: names steps by their joints, and what change would explain the fleet',
    },
    out: { value: 'DIR', help: 'a folder for the tables (CSV), gather.json and first-run-report.pdf' },
  },
  examples: [
    'kitwright gather records/',
    'kitwright gather records/ --kit kits/heron --out first-run/',
    'kitwright gather ah.kitwright.json jm.kitwright.json --json',
  ],
  run: async (given, io) => {
    const kit = await openAtHand(given.value('kit'), io);
    if (!kit.ok) return couldNot(kit);
    const paths = given.positionals.map((path) => resolve(io.cwd, path));
    const gathered = await gatherRecords(paths, io.cwd, {
      kit: kit.value?.kit.id ?? null,
      joints: jointsAtHand(kit.value),
    });
    if (!gathered.ok) return couldNot(gathered);
    const { fleet, files, aside, otherFiles } = gathered.value;
    const report = summariseFleet(fleet, { files, aside, otherFiles }, kit.value);
    const out = given.value('out');
    const written =
      out === undefined ? succeed<readonly string[]>([]) : await writeAll(resolve(io.cwd, out), report);
    if (!written.ok) return couldNot(written);
    if (files === 0) return couldNotFor(nothingThere(given.positionals));
    const names = written.value.map((name) => kitPathAsGiven(join(out ?? '', name), io));
    const where = names.length === 0 ? '' : `\n\nWritten: ${names.join(', ')}`;
    return {
      kind: 'answer',
      json: report,
      text: `${gatherText(report)}${where}`,
      hasFindings: aside.length > 0,
    };
  },
};

async function openAtHand(path: string | undefined, io: CommandIo): Promise<Result<KitAtHand | null>> {
  if (path === undefined) return succeed(null);
  const kit = await openKit(resolve(io.cwd, path));
  if (!kit.ok) return kit;
  return succeed({ kit: kit.value.kit, hash: kit.value.folder.hash }, kit.warnings);
}

/** By the kit's own choices: variants of a part sit at the same places. */
function jointsAtHand(atHand: KitAtHand | null): ReturnType<typeof jointsOf> {
  const chosen = atHand ? chooseKit(atHand.kit, {}) : null;
  return chosen?.ok ? jointsOf(chosen.value) : new Map();
}

async function writeAll(folder: string, report: GatherReport): Promise<Result<readonly string[]>> {
  const { makeGatherPdf } = await import('../../pdf/make-gather-pdf.ts');
  const files: readonly { readonly name: string; readonly content: string | Uint8Array }[] = [
    { name: 'gather.json', content: `${JSON.stringify(report, null, 2)}\n` },
    ...gatherCsv(report).map(({ name, text }) => ({ name, content: text })),
    { name: 'first-run-report.pdf', content: await makeGatherPdf(report) },
  ];
  try {
    await mkdir(folder, { recursive: true });
    for (const { name, content } of files) await replaceFile(join(folder, name), content);
    return succeed(files.map(({ name }) => name));
  } catch (error) {
    const why = (error as NodeJS.ErrnoException).code ?? String(error);
    const message = `"${folder}" cannot be written to: ${why}`;
    const hint = 'Name a folder that you may write to, and close its files in other programs.';
    return { ok: false, problems: [{ code: 'file/not-written', severity: 'error', message, hint }] };
  }
}

function nothingThere(paths: readonly string[]): KitProblem {
  const message = `There is no record in ${paths.join(', ')}`;
  return { code: 'file/not-found', severity: 'error', message, hint: 'Records are files that end in .json.' };
}
