import { resolve } from 'node:path';
import { explain } from '../../../shared-core/faults/explain.ts';
import { FaultModelling } from '../../../shared-core/faults/modelling.ts';
import { tellingSigns } from '../../../shared-core/faults/signs.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { didYouMean } from '../../../shared-core/kit/did-you-mean.ts';
import type { Reading } from '../../../shared-core/kit/kit.ts';
import type { KitProblem, Result } from '../../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../../shared-core/problem/problem.ts';
import { readMeterEntry } from '../../../shared-core/units/meter-entry.ts';
import { openKit } from '../../services/open-kit.ts';
import type { Command, Given } from '../command.ts';
import { couldNot, couldNotFor } from '../command.ts';
import { explainText } from '../explain-text.ts';
import { kitOptions, readSetting } from '../kit-options.ts';

/** `kitwright explain KIT`: what probably made the readings what they are, and what to measure next. */
export const explainCommand: Command = {
  name: 'explain',
  summary: 'Say what probably explains readings that are wrong, and what to measure next',
  positionals: ['KIT'],
  options: {
    condition: { value: 'C', help: 'the condition the amplifier is in now; else that of the last reading' },
    reading: {
      value: 'ID=VALUE',
      help: 'what the meter showed, in the order taken: v2-cathode=8.4, b1-cold=OL; give all, the good ones too',
      repeats: true,
    },
    checked: { value: 'ID', help: 'a reading that was taken again with the same result', repeats: true },
    sign: { value: 'SIGN', help: `what was seen: ${tellingSigns.join(', ')}`, repeats: true },
    ...kitOptions,
  },
  examples: [
    'kitwright explain kits/heron --condition running --reading v2-cathode=0.02 --reading b2-running=297',
    'kitwright explain kits/heron --reading v1a-anode-cold=10.1k --json',
    'kitwright explain kits/curlew --condition no-valves --reading v2-bias=0 --mains 236',
  ],
  run: async (given, io) => {
    const kit = await openKit(resolve(io.cwd, given.positionals[0] ?? ''));
    if (!kit.ok) return couldNot(kit);
    const setting = readSetting(given, kit.value.kit);
    if (!setting.ok) return couldNot(setting);
    const { chosen, bench, fitted } = setting.value;
    const taken = readTaken(given, chosen);
    if (!taken.ok) return couldNot(taken);
    const last = chosen.readings.find(({ id }) => id === taken.value.at(-1)?.id);
    const standing = given.value('condition') ?? last?.in ?? '';
    const condition = chosen.conditions.find(({ id }) => id === standing);
    if (!condition) return couldNotFor(unknownCondition(chosen, standing));
    const ready = new FaultModelling(chosen, bench, fitted).finish();
    const explanation = explain(ready, {
      taken: taken.value,
      checked: given.values('checked'),
      signs: given.values('sign'),
      standing: { condition: condition.supply === 'unplugged' ? null : condition.id },
    });
    const { hash } = kit.value.folder;
    return {
      kind: 'answer',
      json: {
        ...{ format: 'kitwright-explain/1', kit: chosen.id, revision: chosen.revision, hash },
        ...explanation,
      },
      text: explainText(setting.value, explanation),
      hasFindings: !explanation.healthy,
      warnings: [...setting.warnings, ...explanation.unused.map(notUsed)],
    };
  },
};

function unknownCondition({ name, conditions }: ChosenKit, asked: string): KitProblem {
  const hint = didYouMean(
    asked,
    conditions.map(({ id }) => id),
  );
  const message = `${name} has no condition "${asked}"`;
  return { code: 'predict/unknown-condition', severity: 'error', message, hint };
}

function notUsed(id: string): KitProblem {
  const message = `${id} has no computed figure and was left out`;
  return { code: 'command/bad-value', severity: 'warning', message };
}

interface TakenReading {
  readonly id: string;
  readonly value: number | null;
}

/** `ID=VALUE`, at least once; every mistake at once. */
function readTaken(given: Given, chosen: ChosenKit): Result<readonly TakenReading[]> {
  const read = given.values('reading').map((text) => readOne(text, chosen));
  const [first, ...rest] = read.flatMap((result) => (result.ok ? [] : result.problems));
  if (first) return fail(first, ...rest);
  if (read.length === 0) {
    const hint = `For instance --reading ${chosen.readings[0]?.id ?? 'b1'}=245, or =OL.`;
    return fail({
      code: 'command/bad-value',
      severity: 'error',
      message: 'No --reading was given: there is nothing to explain',
      hint,
    });
  }
  return succeed(read.flatMap((result) => (result.ok ? [result.value] : [])));
}

function readOne(text: string, chosen: ChosenKit): Result<TakenReading> {
  const at = text.indexOf('=');
  const [id, value] = [text.slice(0, Math.max(0, at)).trim(), text.slice(at + 1).trim()];
  if (at < 1) return bad(`--reading ${text}: expected ID=VALUE`, 'For instance --reading v2-cathode=8.4.');
  const reading = chosen.readings.find((each) => each.id === id);
  if (!reading) {
    const ids = chosen.readings.map((each) => each.id);
    return bad(`--reading ${text}: ${chosen.name} has no reading "${id}"`, didYouMean(id, ids));
  }
  const entry = readMeterEntry(value, unitOf(reading));
  if (!entry.ok) return bad(`--reading ${text}: ${entry.message}`, entry.hint);
  return succeed({ id, value: entry.entry.kind === 'overload' ? null : entry.entry.value });
}

function unitOf({ measure }: Reading): 'V' | 'Ω' | '' {
  if (measure === 'gain') return '';
  return measure === 'ohms' || measure === 'insulation' ? 'Ω' : 'V';
}

function bad(message: string, hint: string): Result<never> {
  return fail({ code: 'command/bad-value', severity: 'error', message, hint });
}
