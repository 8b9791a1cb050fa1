import { clippingMethod } from '../../shared-core/prediction/clipping.ts';
import type { OutputFigures, SignalFigures } from '../../shared-core/prediction/signal-figures.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import { formatTable } from './table.ts';

/** Small-signal figures as paragraphs: a table of stages, then each output in words. */
export function signalText(figures: SignalFigures | undefined): readonly string[] {
  if (!figures) return [];
  const right = { side: 'right' } as const;
  const rows = figures.stages.map((stage) => [
    `${stage.element} ${stage.output}`,
    gain(stage.gain),
    `${stage.phaseDegrees.toFixed(0)}°`,
    stage.fromInput === null ? '' : gain(stage.fromInput),
    hertz(stage.lowHertz),
    hertz(stage.highHertz),
    formatQuantity(stage.outputOhms, 'Ω', 3),
  ]);
  const table = formatTable(
    [
      { title: 'Stage' },
      { title: 'Gain', ...right },
      { title: 'Phase', ...right },
      { title: 'From input', ...right },
      { title: '−3 dB low', ...right },
      { title: '−3 dB high', ...right },
      { title: 'Output', ...right },
    ],
    rows,
  );
  return [
    `Small signal at ${formatQuantity(figures.hertz, 'Hz', 3)}:\n${table}`,
    ...figures.outputs.map(outputText),
  ];
}

function outputText(output: OutputFigures): string {
  const { at, against, loadOhms, outputOhms, hum, clipping } = output;
  const load = loadOhms === null ? 'no load' : `${formatQuantity(loadOhms, 'Ω', 3)} load`;
  const own = output.gain === null ? '' : `gain ${gain(output.gain)}, `;
  const low = output.lowHertz === null ? '' : `−3 dB at ${hertz(output.lowHertz)}, `;
  const lines = [
    `${at} to ${against}, ${load}: ${own}${low}output resistance ${formatQuantity(outputOhms, 'Ω', 3)}.`,
  ];
  if (hum) lines.push(`Hum from supply ripple: at least ${formatQuantity(hum.volts, 'V', 2)} rms.`);
  if (clipping.kind === 'found') {
    const at =
      clipping.inputVolts === null ? '' : ` for ${formatQuantity(clipping.inputVolts, 'V', 2)} rms in`;
    lines.push(
      `Clipping begins at ${formatQuantity(clipping.watts, 'W', 2)}${at}: ${clipping.limitedBy} in ${clipping.valve} (${clippingMethod}).`,
    );
  } else lines.push(`Onset of clipping not computed: ${clipping.why}.`);
  return lines.join('\n');
}

function gain(value: number): string {
  return value >= 100 ? value.toFixed(0) : value.toPrecision(3);
}

function hertz(value: number | null): string {
  return value === null ? '' : formatQuantity(value, 'Hz', 2);
}
