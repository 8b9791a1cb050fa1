import { type Journey, readingsOff, wholeJourney } from '../helpers/whole-journey.ts';
import type { StudyReport } from './main.ts';

/** Every option of Wren and Curlew, each once in some journey; the first is walked in `npm test` too. */
export const journeys: readonly Journey[] = [
  { kit: 'wren', choices: { mains: '230 V 50 Hz' }, lampWatts: 40 },
  { kit: 'wren', choices: { mains: '120 V 60 Hz' }, lampWatts: 40 },
  { kit: 'curlew', choices: { mains: '230 V 50 Hz', output: 'pentode' }, lampWatts: 100 },
  { kit: 'curlew', choices: { mains: '120 V 60 Hz', output: 'ultra-linear' }, lampWatts: 100 },
];

/**
 * Builds Wren and Curlew from loose parts to the signature, every option once, all readings as predicted.
 *
 * Promised: no step is refused, no reading is off, and the readings together are a healthy amplifier's.
 *
 * @param size Share of the journeys, from the first on.
 */
export async function runJourneysStudy(size: number): Promise<StudyReport> {
  const lines: string[] = [];
  let isKept = true;
  for (const journey of journeys.slice(0, Math.max(1, Math.round(journeys.length * size)))) {
    const { view, together } = await wholeJourney(journey);
    const off = readingsOff(view);
    const isDone = view.currentStep === null && view.build.signature !== null;
    const isHealthy = together.endsWith(' are as a healthy amplifier’s.');
    isKept &&= isDone && isHealthy && off.length === 0;
    const choices = Object.values(journey.choices).join(', ');
    lines.push(
      `${journey.kit}, ${choices}: ${view.facts.steps.length} steps ${isDone ? 'done and signed' : 'NOT done'}, ` +
        `${Object.keys(view.build.readings).length} readings, off: ${off.join('; ') || 'none'}. ${together}`,
    );
  }
  return { lines, data: lines, isKept };
}
