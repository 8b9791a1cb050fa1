import { homedir } from 'node:os';
import { didYouMean } from '../../shared-core/kit/did-you-mean.ts';
import { formatProblems } from '../../shared-core/problem/format-problem.ts';
import type { KitProblem } from '../../shared-core/problem/problem.ts';
import { appVersion } from '../services/version.ts';
import type { Command, CommandIo, CommandOutcome, ExitCode } from './command.ts';
import { exitCodes } from './command.ts';
import { checkCommand } from './commands/check.ts';
import { drainCommand } from './commands/drain.ts';
import { expectCommand } from './commands/expect.ts';
import { explainCommand } from './commands/explain.ts';
import { fitCommand } from './commands/fit.ts';
import { gatherCommand } from './commands/gather.ts';
import { reportCommand } from './commands/report.ts';
import { commandHelp, generalHelp } from './help.ts';
import { readArguments } from './read-arguments.ts';

/** Every command. To add one, add its file and its line here. */
const commands: readonly Command[] = [
  checkCommand,
  expectCommand,
  drainCommand,
  explainCommand,
  fitCommand,
  reportCommand,
  gatherCommand,
];

/**
 * The command line.
 *
 * @param argv What was typed after `kitwright`.
 * @returns The exit code: 0 fine, 1 findings, 2 could not do it.
 */
export async function main(argv: readonly string[], io: CommandIo = processIo()): Promise<ExitCode> {
  const [name, ...rest] = argv;
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    return answerHelp(rest[0], name === undefined ? exitCodes.couldNot : exitCodes.fine, io);
  }
  if (name === '--version') {
    io.out(`${appVersion()}\n`);
    return exitCodes.fine;
  }
  const command = commands.find((each) => each.name === name);
  const asJson = argv.includes('--json');
  if (!command) return say({ kind: 'could-not', problems: [unknownCommand(name)] }, asJson, io);
  const given = readArguments(command, rest);
  if (!given.ok) return say({ kind: 'could-not', problems: given.problems }, asJson, io);
  if (given.value.switches.has('help')) {
    io.out(`${commandHelp(command)}\n`);
    return exitCodes.fine;
  }
  return say(await command.run(given.value, io), given.value.switches.has('json'), io);
}

/** The surroundings of the running program. */
function processIo(): CommandIo {
  // A reader that has seen enough (`| head`) is no fault.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
  return {
    out: (text) => process.stdout.write(text),
    err: (text) => process.stderr.write(text),
    env: process.env,
    platform: process.platform,
    home: homedir(),
    cwd: process.cwd(),
  };
}

function answerHelp(name: string | undefined, code: ExitCode, io: CommandIo): ExitCode {
  const command = commands.find((each) => each.name === name);
  const text = command ? commandHelp(command) : generalHelp(commands, appVersion());
  (code === exitCodes.fine ? io.out : io.err)(`${text}\n`);
  return code;
}

function unknownCommand(name: string): KitProblem {
  const names = commands.map((each) => each.name);
  const message = `There is no command "${name}"`;
  const hint = `${didYouMean(name, names)} kitwright --help lists them all.`;
  return { code: 'command/unknown', severity: 'error', message, hint };
}

function say(outcome: CommandOutcome, asJson: boolean, io: CommandIo): ExitCode {
  if (outcome.kind === 'could-not') {
    if (asJson) io.out(`${JSON.stringify({ problems: outcome.problems }, null, 2)}\n`);
    else io.err(`${formatProblems(outcome.problems)}\n`);
    return exitCodes.couldNot;
  }
  const { warnings = [] } = outcome;
  if (warnings.length > 0) io.err(`${formatProblems(warnings)}\n`);
  io.out(asJson ? `${JSON.stringify(outcome.json, null, 2)}\n` : `${outcome.text}\n`);
  return outcome.hasFindings ? exitCodes.findings : exitCodes.fine;
}
