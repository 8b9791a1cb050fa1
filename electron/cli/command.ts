import type { KitProblem, Problems } from '../../shared-core/problem/problem.ts';
import type { Surroundings } from '../files/data-folder.ts';

/** What a command may touch beside the disk; tests give their own. */
export interface CommandIo extends Surroundings {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
}

/** Exit codes of every command. */
export const exitCodes = { fine: 0, findings: 1, couldNot: 2 } as const;
export type ExitCode = (typeof exitCodes)[keyof typeof exitCodes];

/** An option of a command, as help shows it. */
export interface CommandOption {
  /** What stands for its value in help: `V`, `FILE`; null for a switch. */
  readonly value: string | null;
  readonly help: string;
  /** May be given more than once. */
  readonly repeats?: boolean;
}

/** One command of the command line. */
export interface Command {
  readonly name: string;
  /** One line, in the imperative. */
  readonly summary: string;
  /** What stands after the name: `KIT`. */
  readonly positionals: readonly string[];
  /** The last positional may be given more than once. */
  readonly repeatsLast?: boolean;
  readonly options: Readonly<Record<string, CommandOption>>;
  /** Lines for the end of its help. */
  readonly examples: readonly string[];
  readonly run: (given: Given, io: CommandIo) => Promise<CommandOutcome>;
}

/** What was typed, read. */
export interface Given {
  readonly positionals: readonly string[];
  readonly switches: ReadonlySet<string>;
  /** The last value given for an option; undefined when it was not given. */
  readonly value: (option: string) => string | undefined;
  readonly values: (option: string) => readonly string[];
}

/** What a command found: both ways of saying it, and how it went. */
export type CommandOutcome =
  | {
      readonly kind: 'answer';
      readonly json: unknown;
      readonly text: string;
      readonly hasFindings: boolean;
      /** Said beside the answer. */
      readonly warnings?: readonly KitProblem[];
    }
  | { readonly kind: 'could-not'; readonly problems: Problems };

/** The outcome of a step that failed. */
export function couldNot(result: { readonly ok: false; readonly problems: Problems }): CommandOutcome {
  return { kind: 'could-not', problems: result.problems };
}

/** The outcome of one problem. */
export function couldNotFor(problem: KitProblem): CommandOutcome {
  return { kind: 'could-not', problems: [problem] };
}
