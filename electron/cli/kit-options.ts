import { didYouMean } from '../../shared-core/kit/did-you-mean.ts';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Choices, Kit } from '../../shared-core/kit/kit.ts';
import type { Bench, Fitted } from '../../shared-core/prediction/bench.ts';
import { plainBench } from '../../shared-core/prediction/bench.ts';
import { nominalBench } from '../../shared-core/prediction/nominal-bench.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { readQuantity } from '../../shared-core/units/read-quantity.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import { findValveBase } from '../../shared-core/valves/bases.ts';
import { findValveType, valveTypeNames } from '../../shared-core/valves/index.ts';
import type { CommandOption, Given } from './command.ts';

/** Options of every command that computes. */
export const kitOptions = {
  mains: { value: 'V', help: 'mains voltage as measured, for instance 236; else nominal, ±6 %' },
  meter: { value: 'OHMS', help: 'input resistance of the meter, 10M unless given; or 20k/V' },
  fit: { value: 'V1=TYPE', help: 'another valve in a socket; may be given again', repeats: true },
  option: { value: 'NAME=CHOICE', help: 'a choice of the kit; may be given again', repeats: true },
} satisfies Record<string, CommandOption>;

/** What a command computes with. */
export interface Setting {
  readonly chosen: ChosenKit;
  readonly bench: Bench;
  readonly fitted: Fitted;
}

/** Reads `--mains`, `--meter`, `--fit` and `--option`; every mistake at once. */
export function readSetting(given: Given, kit: Kit): Result<Setting> {
  const choices = readChoices(given.values('option'), kit);
  const chosen = choices.ok ? chooseKit(kit, choices.value) : choices;
  const fitted = readFitted(given.values('fit'), kit);
  const input = readMeter(given.value('meter'));
  const volts = readMains(given.value('mains'));
  const problems = [chosen, fitted, input, volts].flatMap((result) => (result.ok ? [] : result.problems));
  const [first, ...rest] = problems;
  if (first) return fail(first, ...rest);
  if (!chosen.ok || !fitted.ok || !input.ok || !volts.ok) throw new Error('No problem and no value');
  const nominal = nominalBench(chosen.value).mains;
  const mains: Bench['mains'] =
    volts.value === null ? nominal : { ...nominal, volts: volts.value, source: 'measured' };
  const label = describeInput(input.value);
  const bench = { ...plainBench, mains, meter: { ...plainBench.meter, label, input: input.value } };
  return succeed(
    { chosen: chosen.value, bench, fitted: fitted.value },
    mainsWarnings(mains.volts, nominal.volts, kit),
  );
}

function mainsWarnings(volts: number, nominal: number, kit: Kit): readonly KitProblem[] {
  if (Math.abs(volts / nominal - 1) < 0.25) return [];
  const message = `${formatQuantity(volts, 'V')} is far from the ${formatQuantity(nominal, 'V')} that ${kit.name} is chosen for`;
  const other = kit.options.find(({ id }) => id === 'mains')?.choices.join('" or "');
  const hint = other === undefined ? undefined : `Choose with --option mains="${other}".`;
  return [{ code: 'command/bad-value', severity: 'warning', message, hint }];
}

function readMains(text: string | undefined): Result<number | null> {
  if (text === undefined) return succeed(null);
  const reading = readQuantity(text, 'V');
  if (reading.ok && reading.value > 0 && reading.value <= 500) return succeed(reading.value);
  return bad(`--mains ${text}: expected a voltage above 0, at most 500 V`, 'Write --mains 236.');
}

function readMeter(text = '10M'): Result<Bench['meter']['input']> {
  const perVolt = /^(.*)\/\s*V$/i.exec(text);
  const reading = readQuantity(perVolt?.[1] ?? text, 'Ω');
  if (!reading.ok || reading.value <= 0) {
    return bad(`--meter ${text}: expected its input resistance`, 'Write --meter 10M, or --meter 20k/V.');
  }
  return succeed(
    perVolt ? { kind: 'per-volt', ohmsPerVolt: reading.value } : { kind: 'fixed', ohms: reading.value },
  );
}

function describeInput(input: Bench['meter']['input']): string {
  return input.kind === 'fixed'
    ? formatQuantity(input.ohms, 'Ω')
    : `${formatQuantity(input.ohmsPerVolt, 'Ω')}/V`;
}

function readChoices(given: readonly string[], kit: Kit): Result<Choices> {
  const choices: Record<string, string> = {};
  for (const text of given) {
    const [name, choice] = splitAtEquals(text);
    if (choice === null) return bad(`--option ${text}: expected NAME=CHOICE`, optionHint(kit));
    // "120" is enough where only one choice begins with it.
    const known = kit.options.find(({ id }) => id === name)?.choices ?? [];
    const beginning = known.filter((each) => each.toLowerCase().startsWith(choice.toLowerCase()));
    choices[name] = beginning.length === 1 ? (beginning[0] ?? choice) : choice;
  }
  return succeed(choices);
}

function optionHint(kit: Kit): string {
  const [first] = kit.options;
  return first
    ? `For instance --option ${first.id}="${first.choices[0] ?? ''}".`
    : `${kit.name} has no options.`;
}

function readFitted(given: readonly string[], kit: Kit): Result<Fitted> {
  const sockets = [...new Set(kit.parts.filter(({ kind }) => kind === 'valve').map(({ id }) => id))];
  const read = given.map((text) => readFit(text, kit, sockets));
  const [first, ...rest] = read.flatMap((result) => (result.ok ? [] : result.problems));
  if (first) return fail(first, ...rest);
  const valves = Object.fromEntries(read.flatMap((result) => (result.ok ? [result.value] : [])));
  return succeed({ measured: {}, valves });
}

function readFit(text: string, kit: Kit, sockets: readonly string[]): Result<readonly [string, string]> {
  const [socket, type] = splitAtEquals(text);
  if (type === null) return bad(`--fit ${text}: expected SOCKET=TYPE`, 'For instance --fit V1=ECC81.');
  if (!sockets.includes(socket)) {
    return bad(`--fit ${text}: ${kit.name} has no valve socket "${socket}"`, didYouMean(socket, sockets));
  }
  const found = findValveType(type, kit.valves);
  if (found) {
    const base = baseOfSocket(kit, socket);
    if (base === undefined || base === found.base) return succeed([socket, found.name]);
    const hint = `Give a valve with the base ${base}.`;
    return bad(
      `--fit ${text}: ${found.name} has the base ${found.base}, but ${socket} is a ${base} socket`,
      hint,
    );
  }
  const hint = didYouMean(type, valveTypeNames(kit.valves));
  return bad(`--fit ${text}: the valve type "${type}" is not in the catalogue`, hint);
}

/** The base of a socket in every variant of the kit; undefined where it is not known or not one. */
function baseOfSocket(kit: Kit, socket: string): string | undefined {
  const bases = kit.parts.flatMap((part) =>
    part.kind === 'valve' && part.id === socket ? [findValveBase(part.socket.base)?.name] : [],
  );
  return new Set(bases).size === 1 ? bases[0] : undefined;
}

function splitAtEquals(text: string): readonly [string, string | null] {
  const at = text.indexOf('=');
  return at < 1 ? [text, null] : [text.slice(0, at).trim(), text.slice(at + 1).trim()];
}

function bad(message: string, hint: string): Result<never> {
  return fail({ code: 'command/bad-value', severity: 'error', message, hint });
}
