import type { Command, CommandOption } from './command.ts';
import { commonOptions } from './read-arguments.ts';

/** Help for the whole command line. */
export function generalHelp(commands: readonly Command[], version: string): string {
  const uses = commands.map(useOf);
  const width = Math.max(...uses.map(({ length }) => length));
  return [
    `kitwright ${version} – the companion at the bench for people who assemble valve amplifier kits`,
    '',
    'Usage: kitwright COMMAND …',
    '',
    ...commands.map(({ summary }, index) => `  ${(uses[index] ?? '').padEnd(width)}  ${summary}`),
    '',
    'KIT is a folder that holds a kit.yaml.',
    'Every command takes --json, and --help for its options.',
    'Exit code: 0 fine, 1 findings, 2 could not do it.',
  ].join('\n');
}

/** Help for one command. */
export function commandHelp(command: Command): string {
  const all: Readonly<Record<string, CommandOption>> = { ...command.options, ...commonOptions };
  const options = Object.entries(all).map(([name, option]) => {
    return [`--${name}${option.value === null ? '' : ` ${option.value}`}`, option.help] as const;
  });
  const width = Math.max(...options.map(([left]) => left.length));
  const usage = `Usage: kitwright ${useOf(command)} [options]`;
  const examples = command.examples.map((line) => `  ${line}`);
  return [
    `${command.summary}.`,
    '',
    usage,
    '',
    ...options.map(([left, help]) => `  ${left.padEnd(width)}  ${help}`),
    ...(examples.length > 0 ? ['', 'For instance:', ...examples] : []),
  ].join('\n');
}

function useOf({ name, positionals, repeatsLast }: Command): string {
  return [name, ...positionals, ...(repeatsLast === true ? ['…'] : [])].join(' ');
}
