/** The words for a reading, from good to dangerous. */
export type Verdict =
  'as expected' | 'borderline' | 'out of band' | 'stop' | 'still warming' | 'not predicted';

export type { MeterEntry } from '../units/meter-entry.ts';
