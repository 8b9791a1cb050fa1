import { useEffect } from 'react';
import type { Step } from '../../shared-core/kit/kit.ts';
import { useShown } from '../bridge/link-context.ts';
import { hush, readAloud } from '../bridge/speech.ts';

/** What is said this soon after a step began comes after its words, not in place of them; in milliseconds (ms). */
const togetherMs = 800;

let stepAt = Number.NEGATIVE_INFINITY;

/** Reads aloud what the live region says, where the settings ask for it. */
export function useSaidAloud(): void {
  const said = useShown((state) => state.said);
  const isOn = useShown((state) => state.settings.speech === 'on');
  useEffect(() => {
    if (!isOn || said === '') return;
    readAloud(said, performance.now() - stepAt > togetherMs ? 'now' : 'afterwards');
  }, [said, isOn]);
}

/** Reads a step aloud when it comes on the screen; null reads nothing, and ends what is being read. */
export function useStepAloud(step: Step | null): void {
  const isOn = useShown((state) => state.settings.speech === 'on');
  const words = step === null ? '' : stepWords(step);
  useEffect(() => {
    if (!isOn) return undefined;
    stepAt = performance.now();
    readAloud(words, 'now');
    return hush;
  }, [words, isOn]);
}

/** A step as it is read aloud: what to do, then what to take care of. */
export function stepWords({ title, do: what, cautions }: Pick<Step, 'title' | 'do' | 'cautions'>): string {
  const care = cautions.map(
    ({ level, text }) => `${level.replace(/^./, (first) => first.toUpperCase())}: ${text}`,
  );
  return [`${title}.`, what, ...care].join(' ');
}
