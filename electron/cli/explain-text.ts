import type { Explanation, ToldCause } from '../../shared-core/faults/explain.ts';
import type { NextStep } from '../../shared-core/faults/next-step.ts';
import type { RankedSlip } from '../../shared-core/faults/slips.ts';
import type { Setting } from './kit-options.ts';

/** Causes shown at most; the last line is always shown. */
const mostCauses = 6;

/** Faults named of one cause. */
const mostFaults = 5;

/** An explanation for people. */
export function explainText({ chosen }: Pick<Setting, 'chosen'>, explanation: Explanation): string {
  const title = `${chosen.name}, revision ${chosen.revision}`;
  if (explanation.healthy) return [title, '', explanation.advice].join('\n');
  const { causes, slips, next, advice, falseAlarmLevel, distance, limit } = explanation;
  const last = causes.at(-1);
  const shown = causes.slice(0, -1).slice(0, mostCauses);
  return [
    title,
    '',
    `The readings do not go together as in a healthy amplifier (distance ${distance.toFixed(1)}, limit ` +
      `${limit.toFixed(1)}; ${(100 * falseAlarmLevel).toFixed(0)} of 100 healthy ones would be called so).`,
    ...(slips.length > 0 ? ['', 'A slip of measuring?', ...slips.slice(0, 3).map(slipLine)] : []),
    ...['', 'Probable causes'],
    ...shown.flatMap(causeLines),
    ...(last ? causeLines(last) : []),
    ...(next ? ['', 'Next', ...nextLines(next)] : []),
    ...['', advice],
  ].join('\n');
}

function percent(probability: number): string {
  const whole = Math.round(100 * probability);
  return probability > 0 && whole === 0 ? '<1 %' : `${whole} %`;
}

function slipLine({ reading, words, probability }: RankedSlip): string {
  return `  ${percent(probability).padStart(5)}  ${reading}: ${words}`;
}

function causeLines({ group, faults, probability, chance, repair }: ToldCause): readonly string[] {
  const others = faults.slice(1).map(({ words }) => words);
  const named = others.slice(0, mostFaults - 1);
  const left = others.length - named.length;
  return [
    `  ${percent(probability).padStart(5)}  ${chance}: ${group}`,
    ...named.map((words) => `         or ${words}`),
    ...(left > 0 ? [`         or ${left} more that these readings cannot tell apart`] : []),
    ...(repair ? [`         → ${repair.look}`] : []),
  ];
}

function nextLines({ action, outcomes }: NextStep): readonly string[] {
  return [
    `  ${action}`,
    ...outcomes
      .slice(0, 4)
      .map(
        ({ shows, means, probability }) =>
          `  ${percent(probability).padStart(5)}  ${shows}: ${means[0] ?? ''}`,
      ),
  ];
}
