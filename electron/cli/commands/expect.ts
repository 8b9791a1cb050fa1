import { resolve } from 'node:path';
import { expectKit } from '../../../shared-core/bands/expect-kit.ts';
import { didYouMean } from '../../../shared-core/kit/did-you-mean.ts';
import { openKit } from '../../services/open-kit.ts';
import type { Command } from '../command.ts';
import { couldNot, couldNotFor } from '../command.ts';
import { expectText } from '../expect-text.ts';
import { kitOptions, readSetting } from '../kit-options.ts';

/** `kitwright expect KIT`: what each reading should show. */
export const expectCommand: Command = {
  name: 'expect',
  summary: 'Compute what each reading should show, and how near each part is to its ratings',
  positionals: ['KIT'],
  options: {
    condition: { value: 'C', help: 'this condition only; may be given again', repeats: true },
    ...kitOptions,
  },
  examples: [
    'kitwright expect kits/heron --condition running',
    'kitwright expect kits/heron --option mains=120 --mains 118 --meter 20k/V',
    'kitwright expect kits/heron --fit V1=ECC81',
  ],
  run: async (given, io) => {
    const kit = await openKit(resolve(io.cwd, given.positionals[0] ?? ''));
    if (!kit.ok) return couldNot(kit);
    const setting = readSetting(given, kit.value.kit);
    if (!setting.ok) return couldNot(setting);
    const { chosen, bench, fitted } = setting.value;
    const known = chosen.conditions.map(({ id }) => id);
    const asked = given.values('condition');
    const { hash } = kit.value.folder;
    const conditions = asked.length > 0 ? [...new Set(asked)] : known;
    const expected = expectKit(chosen, bench, fitted, hash, conditions);
    const [unknown] = expected.unknown;
    if (unknown !== undefined) {
      const message = `${chosen.name} has no condition "${unknown}"`;
      const hint = didYouMean(unknown, known);
      return couldNotFor({ code: 'predict/unknown-condition', severity: 'error', message, hint });
    }
    return {
      kind: 'answer',
      json: expected.report,
      text: expectText(setting.value, expected),
      hasFindings: expected.overrated.length > 0,
      warnings: setting.warnings,
    };
  },
};
