import { resolve } from 'node:path';
import { drainKit, longestDrainSeconds } from '../../../shared-core/bands/expect-kit.ts';
import type { DrainPrediction } from '../../../shared-core/prediction/prediction.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { openKit } from '../../services/open-kit.ts';
import type { Command, CommandOutcome } from '../command.ts';
import { couldNot } from '../command.ts';
import { headLine } from '../expect-text.ts';
import { kitOptions, readSetting } from '../kit-options.ts';
import type { Setting } from '../kit-options.ts';
import { formatTable } from '../table.ts';

/** `kitwright drain KIT`: how long the stores stay dangerous. */
export const drainCommand: Command = {
  name: 'drain',
  summary: 'Compute how long each store stays dangerous after the plug is out',
  positionals: ['KIT'],
  options: kitOptions,
  examples: ['kitwright drain kits/heron'],
  run: async (given, io) => {
    const kit = await openKit(resolve(io.cwd, given.positionals[0] ?? ''));
    if (!kit.ok) return couldNot(kit);
    const setting = readSetting(given, kit.value.kit);
    if (!setting.ok) return couldNot(setting);
    return { ...drainOutcome(setting.value), warnings: setting.warnings };
  },
};

function drainOutcome(setting: Setting) {
  const { prediction, report, findings } = drainKit(setting.chosen, setting.bench, setting.fitted);
  return {
    kind: 'answer',
    json: report,
    text: drainText(setting, prediction),
    hasFindings: findings.length > 0,
  } as const satisfies CommandOutcome;
}

function drainText({ chosen, bench }: Setting, { safeVolts, stores }: DrainPrediction): string {
  const head = headLine(chosen, bench);
  if (stores.length === 0) return `${head}\n\nNothing in it stores a dangerous charge.`;
  const right = { side: 'right' } as const;
  const table = formatTable(
    [
      { title: 'Store' },
      { title: 'Measure across' },
      { title: 'Highest', ...right },
      { title: 'Energy', ...right },
      { title: 'Fast', ...right },
      { title: 'Likely', ...right },
      { title: 'Slow', ...right },
      { title: '' },
    ],
    stores.map(({ part, plus, minus, volts, joules, fastSeconds, likelySeconds, slowSeconds }) => [
      part,
      `${plus} and ${minus}`,
      formatQuantity(volts, 'V', 3),
      `${formatQuantity(joules, '', 2)} J`,
      ...[fastSeconds, likelySeconds, slowSeconds].map(seconds),
      finding(slowSeconds),
    ]),
  );
  return [
    head,
    `Time from pulling the plug until each store is below ${formatQuantity(safeVolts, 'V')}:`,
    table,
    'Fast: valves hot, smallest parts. Likely: valves cold. Slow: valves cold, largest parts, high mains unloaded.\n' +
      'Waiting proves nothing: measure every store, and again a minute later.',
  ].join('\n\n');
}

function seconds(value: number | null): string {
  return value === null ? 'no path' : formatQuantity(value, 's', 2);
}

function finding(slowSeconds: number | null): string {
  if (slowSeconds === null) return 'NO DISCHARGE PATH';
  return slowSeconds > longestDrainSeconds ? `over ${formatQuantity(longestDrainSeconds, 's')}` : '';
}
