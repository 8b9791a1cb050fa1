import { resolve } from 'node:path';
import { didYouMean } from '../../../shared-core/kit/did-you-mean.ts';
import type { ConditionPrediction } from '../../../shared-core/prediction/prediction.ts';
import { doJob } from '../../engine-worker/jobs.ts';
import { openKit } from '../../services/open-kit.ts';
import type { KitOnDisk } from '../../services/open-kit.ts';
import type { Command, CommandOutcome } from '../command.ts';
import { couldNot } from '../command.ts';
import { expectText } from '../expect-text.ts';
import { kitOptions, readSetting } from '../kit-options.ts';
import type { Setting } from '../kit-options.ts';

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
    const known = setting.value.chosen.conditions.map(({ id }) => id);
    const asked = given.values('condition');
    const unknown = asked.find((id) => !known.includes(id));
    if (unknown !== undefined) {
      const message = `${kit.value.kit.name} has no condition "${unknown}"`;
      const hint = didYouMean(unknown, known);
      return {
        kind: 'could-not',
        problems: [{ code: 'predict/unknown-condition', severity: 'error', message, hint }],
      };
    }
    const conditions = asked.length > 0 ? [...new Set(asked)] : known;
    return { ...expectOutcome(kit.value, setting.value, conditions), warnings: setting.warnings };
  },
};

function expectOutcome(kit: KitOnDisk, setting: Setting, conditions: readonly string[]) {
  const predictions = conditions.flatMap((condition) => {
    const prediction = doJob('condition', { ...setting, condition });
    return prediction ? [prediction] : [];
  });
  const isOver = predictions.some(({ ratings }) => ratings.some(({ percent }) => percent > 100));
  return {
    kind: 'answer',
    json: expectJson(kit, setting, predictions),
    text: expectText(setting, predictions),
    hasFindings: isOver,
  } as const satisfies CommandOutcome;
}

function expectJson(
  { kit, folder }: KitOnDisk,
  { bench }: Setting,
  predictions: readonly ConditionPrediction[],
) {
  return {
    format: 'kitwright-expect/1',
    kit: kit.id,
    revision: kit.revision,
    hash: folder.hash,
    mainsVolts: bench.mains.volts,
    mainsHertz: bench.mains.hertz,
    meter: bench.meter.input,
    conditions: predictions.map(({ condition, readings, ratings, solve }) => ({
      condition,
      readings: readings.map(
        ({ id, at, against, measure, unit, predicted, nominal, low, high, stopAbove, stopBelow }) => ({
          ...{ id, at, against, measure, unit, predicted, nominal, low, high, stopAbove, stopBelow },
        }),
      ),
      ratings: ratings.map(({ part, what, value, limit, percent }) => ({
        part,
        what,
        value,
        limit,
        percent,
      })),
      solve,
    })),
  };
}
