import { SmallSignal } from '../../../shared-core/circuit/small-signal.ts';
import type { Simulator } from '../../helpers/simulator.ts';
import { askSignal, startOf } from './ask-simulator.ts';
import { solveCase, withSlopes } from './solve-case.ts';
import type { Subject } from './subjects.ts';

/** Frequencies compared, in hertz (Hz). */
const frequencies = [20, 1e3, 20e3];
/** Nets that move less than this for 1 V are left out. */
const leastGain = 1e-9;

/** Small signal of one subject. */
export interface SignalFigures {
  readonly compared: number;
  /** Worst difference of a net's gain, in decibels (dB), and where. */
  readonly decibels: number;
  readonly worst: string;
}

/** Compares the gain from the moved source to every net; null where nothing moves. */
export async function compareSignals(simulator: Simulator, subject: Subject): Promise<SignalFigures | null> {
  const { moved } = subject;
  if (moved === null) return null;
  const { solver } = solveCase(subject.of);
  const small = new SmallSignal(solver);
  const [of, start] = [withSlopes(solver), startOf(solver)];
  let [compared, decibels, worst] = [0, 0, ''];
  for (const hertz of frequencies) {
    const theirs = await askSignal(simulator, of, start, moved, hertz);
    for (const [net, value] of theirs ?? []) {
      const size = Math.hypot(...value);
      if (size < leastGain) continue;
      const own = small.transfer({ kind: 'parameter', element: moved, name: 'volts' }, net, hertz);
      const difference = Math.abs(20 * Math.log10(Math.hypot(...own) / size));
      compared++;
      if (!(difference > decibels)) continue;
      decibels = difference;
      worst = `${net} at ${hertz} Hz`;
    }
  }
  return { compared, decibels, worst };
}
