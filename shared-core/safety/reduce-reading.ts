import type { ReadingStanding, SafetyState } from './energy-state.ts';
import type { ReadingEntered } from './events.ts';
import type { SafetyFacts } from './facts.ts';
import { judgeForSafety } from './judge.ts';
import { probeShowsVolts } from './limits.ts';
import { isBlocking, isLiveReading } from './lookup.ts';
import type { Stamp } from './stamp.ts';

/** A reading: its standing in the gates, and the stop when it is past a limit. */
export function reduceReading(
  state: SafetyState,
  event: ReadingEntered,
  stamp: Stamp,
  facts: SafetyFacts,
): SafetyState {
  const reading = facts.readings.find((each) => each.id === event.reading);
  if (reading === undefined) return state;
  const verdict = judgeForSafety(event, reading, state, facts, stamp);
  const before = state.readings[event.reading];
  const isLive = isLiveReading(reading, facts);
  const keepsOpen =
    verdict === 'still warming' &&
    before !== undefined &&
    isBlocking(before.verdict) &&
    before.settled !== 'settled';
  const standing: ReadingStanding = keepsOpen
    ? before
    : {
        ...{ verdict, stamp, counts: true },
        value: event.entry.kind === 'value' ? event.entry.value : null,
        settled: isBlocking(verdict) ? 'open' : 'settled',
      };
  const { energy } = state;
  const shows = event.entry.kind === 'value' ? Math.abs(event.entry.value) : 0;
  const isVolts = reading.measure === 'dc volts' || reading.measure === 'ac volts';
  const isStop = verdict === 'stop' && energy.kind === 'live';
  return {
    ...state,
    readings: { ...state.readings, [event.reading]: standing },
    energy: isStop ? { ...energy, mustPull: { kind: 'stop', reading: event.reading } } : energy,
    probeShown: state.probeShown || (isLive && isVolts && shows >= probeShowsVolts),
    // Cold readings may have been taken with the mains switch on: it is confirmed off afterwards.
    mainsSwitchOff: isLive ? state.mainsSwitchOff : false,
  };
}
