import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { ValvePart } from '../../shared-core/kit/kit.ts';
import { readKit } from '../../shared-core/kit/read-kit.ts';
import { type WiredSocket, wireSocket } from '../../shared-core/faults/fit-socket.ts';
import { findValveType } from '../../shared-core/valves/index.ts';
import { root } from '../run/child.mjs';

/** Reads a kit's text at its first choices; a test that cannot read its kit fails. */
export function kitFrom(text: string): ChosenKit {
  const read = readKit(text, 'kit.yaml');
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value);
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  return chosen.value;
}

const textOf = (id: string): string => readFileSync(join(root, 'kits', id, 'kit.yaml'), 'utf8');

/** Replaces texts, each of which must be there exactly once: a kit that no longer fits fails. */
function patch(text: string, replacements: readonly (readonly [string, string])[]): string {
  return replacements.reduce((before, [from, to]) => {
    const parts = before.split(from);
    if (parts.length !== 2) throw new Error(`"${from}" is found ${parts.length - 1} times, not once`);
    return parts.join(to);
  }, text);
}

export const kitIds = ['heron', 'wren', 'curlew'] as const;
export const kits = Object.fromEntries(kitIds.map((id) => [id, kitFrom(textOf(id))])) as Readonly<
  Record<(typeof kitIds)[number], ChosenKit>
>;

/** A socket of a kit, as it is soldered. */
export function socketOf(kit: ChosenKit, id: string): WiredSocket {
  const part = kit.parts.find((each): each is ValvePart => each.id === id && each.kind === 'valve');
  const type = part && findValveType(part.type, kit.valves);
  if (!part || !type) throw new Error(`There is no socket ${id}`);
  return wireSocket(kit, part, type);
}

/** Heron with its first socket wired for triodes with a plain heater: 4 to 5, shield on 9 to the chassis. */
function heronWiredPlain(type: string, heaterAmps: string): ChosenKit {
  return kitFrom(
    patch(textOf('heron').replaceAll('6.3 V, at: 2.5 A', `6.3 V, at: ${heaterAmps}`), [
      ['type: ECC83,', `type: ${type},`],
      ['W14: { from: V2.5, to: V1.9,', 'W14: { from: V2.5, to: V1.5,'],
      ['W15: { from: V1.4, to: V1.5,', 'W15: { from: V1.9, to: TS3.10,'],
    ]),
  );
}

/** The socket of a 6N6P. */
export const heronFor6n6p = heronWiredPlain('6N6P', '3 A');

/** The socket of a 6CG7, 0.60 A: with EL84 and EZ81 the winding gives 2.36 A of its 2.45 A. */
export const heronFor6cg7 = heronWiredPlain('6CG7', '2.45 A');

/** Heron with its first socket wired for E182CC: its tap on 8, the first anode on 9, the first cathode on 6. */
export const heronForE182cc = kitFrom(
  patch(textOf('heron'), [['type: ECC83,', 'type: E182CC,']]).replaceAll(
    /\bV1\.(6|8|9)\b/g,
    (_, pin: string) => `V1.${{ 6: 9, 8: 6, 9: 8 }[pin as '6' | '8' | '9']}`,
  ),
);

/** Heron with a heater line of 12.6 V, for which its first socket is wired in series: 4 to 5. */
export const heronAt12Volts = kitFrom(
  patch(textOf('heron').replaceAll('heater: { volts: 6.3 V,', 'heater: { volts: 12.6 V,'), [
    ['W14: { from: V2.5, to: V1.9,', 'W14: { from: V2.5, to: V1.5,'],
    ['W15: { from: V1.4, to: V1.5,', 'W15: { from: TS3.8, to: TS3.10,'],
  ]),
);
