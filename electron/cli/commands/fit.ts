import { resolve } from 'node:path';
import { fitValves } from '../../../shared-core/faults/fit-valves.ts';
import type { Kit } from '../../../shared-core/kit/kit.ts';
import type { Result } from '../../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../../shared-core/problem/problem.ts';
import { openKit } from '../../services/open-kit.ts';
import type { Command } from '../command.ts';
import { couldNot } from '../command.ts';
import { fitText } from '../fit-text.ts';
import { kitOptions, readSetting } from '../kit-options.ts';

const { mains, meter, option } = kitOptions;

/** `kitwright fit KIT V1=TYPE`: what becomes of a kit with another valve in a socket. */
export const fitCommand: Command = {
  name: 'fit',
  summary: 'Say whether another valve fits a socket, and what would change or be damaged',
  positionals: ['KIT', 'V1=TYPE'],
  repeatsLast: true,
  options: { mains, meter, option },
  examples: [
    'kitwright fit kits/heron V1=ECC81',
    'kitwright fit kits/curlew V2=KT88 V3=KT88 V4=KT88 V5=KT88',
    'kitwright fit kits/heron V1=6N6P --option mains=120 --json',
  ],
  run: async (given, io) => {
    const [path = '', ...asked] = given.positionals;
    const kit = await openKit(resolve(io.cwd, path));
    if (!kit.ok) return couldNot(kit);
    const setting = readSetting(given, kit.value.kit);
    if (!setting.ok) return couldNot(setting);
    const valves = readAsked(asked, kit.value.kit);
    if (!valves.ok) return couldNot(valves);
    const fit = fitValves({ ...setting.value, valves: valves.value });
    if (!fit.ok) return couldNot(fit);
    return {
      kind: 'answer',
      json: fit.value,
      text: fitText(setting.value, fit.value),
      hasFindings: fit.value.verdict === 'no',
      warnings: setting.warnings,
    };
  },
};

/** `V1=ECC81`, more than once; a socket that is written once for its channels is asked about in each. */
function readAsked(asked: readonly string[], kit: Kit): Result<Readonly<Record<string, string>>> {
  const sockets = kit.parts.filter(({ kind }) => kind === 'valve').map(({ id }) => id);
  const valves: Record<string, string> = {};
  for (const text of asked) {
    const at = text.indexOf('=');
    const [socket, type] = [text.slice(0, at).trim(), text.slice(at + 1).trim()];
    if (at < 1 || type === '') {
      const message = `${text}: expected a socket and a type`;
      const hint = `For instance ${sockets[0] ?? 'V1'}=ECC83.`;
      return fail({ code: 'command/bad-value', severity: 'error', message, hint });
    }
    const channels = sockets.filter((id) => id.startsWith(`${socket}-`));
    for (const id of channels.length > 0 ? channels : [socket]) valves[id] = type;
  }
  return succeed(valves);
}
