import type { RecordedInstrument } from '../../../shared-core/safety/instrument.ts';
import type { SafetyFacts } from '../../../shared-core/safety/facts.ts';
import type { Rulebook } from '../../../shared-core/safety/guard.ts';
import type { Fields } from '../journey.ts';
import { finch } from '../finch.ts';
import type { ScriptedSafety } from '../scripted-safety.ts';
import { refused, type Scenario } from './scenario.ts';
import { cold, fresh, onLamp, ready } from './stages.ts';

const onCable: RecordedInstrument = {
  identity: 'LARKFIELD,DM-1,1024,1.0',
  name: 'LARKFIELD DM-1',
  address: '/dev/ttyUSB0',
  isolated: true,
  earthVolts: 500,
};

/** With readings at low volts, with the black lead on a reservoir, and of unknown volts. */
const factsWith = (lampVolts: number): SafetyFacts => ({
  ...finch,
  conditions: finch.conditions.map((each) => (each.id === 'lamp' ? { ...each, maxVolts: lampVolts } : each)),
  readings: finch.readings.flatMap((reading) =>
    reading.id === 'ht-ac'
      ? [
          reading,
          { ...reading, id: 'heater-ac', title: 'heater-ac', at: 'V2.4', stopAbove: 8, probeVolts: 7 },
          { ...reading, id: 'apart', title: 'apart', against: 'TS1.4', probeVolts: 7 },
          { ...reading, id: 'unknown', title: 'unknown', probeVolts: null },
        ]
      : [reading],
  ),
});

/** Live on the lamp, with an instrument recorded; where a probe may meet so many volts (V). */
export const withInstrument =
  (change: Partial<RecordedInstrument> = {}, lampVolts = 400) =>
  (rules: Rulebook): ScriptedSafety => {
    const amp = ready(
      (each) => each.do('instrument-recorded', { instrument: { ...onCable, ...change } }),
      factsWith(lampVolts),
    )(rules);
    amp.do('plugged-in', onLamp);
    return amp;
  };

/** A number that an instrument offered, entered by hand. */
export const taken = (reading: string, value = 6.3): Fields<'reading-entered'> => ({
  ...cold(reading),
  entry: { kind: 'value', value },
  typed: String(value),
  instrument: { instrument: onCable.identity, reply: '+6.3E+00', function: 'VOLT:AC', range: 10 },
});

const notIsolated = { isolated: false, earthVolts: 0 };

/** What an instrument must never be used for. */
export const instrumentScenarios: readonly Scenario[] = [
  refused(
    'instrument-fits',
    'a hand enters what an instrument offers for the earth bond',
    fresh,
    'reading-entered',
    taken('earth', 0.1),
    'safety/by-hand-only',
  ),
  refused(
    'instrument-fits',
    'an instrument that was never recorded',
    withInstrument({ identity: 'LARKFIELD,DM-1,1025,1.0' }),
    'reading-entered',
    taken('heater-ac'),
    'safety/instrument-not-recorded',
  ),
  refused(
    'instrument-fits',
    'an instrument on earth at a place of 250 V',
    withInstrument(notIsolated, 20),
    'reading-entered',
    taken('ht-ac', 0),
    'safety/instrument-volts',
  ),
  refused(
    'instrument-fits',
    'an instrument on earth at a place of 7 V where a probe that slips meets 400 V',
    withInstrument(notIsolated),
    'reading-entered',
    taken('heater-ac'),
    'safety/instrument-volts',
  ),
  refused(
    'instrument-fits',
    'an instrument on earth that shows more than the safe voltage',
    withInstrument(notIsolated, 20),
    'reading-entered',
    taken('heater-ac', 31),
    'safety/instrument-volts',
  ),
  refused(
    'instrument-fits',
    'an instrument on earth with its black lead on a live point',
    withInstrument(notIsolated, 20),
    'reading-entered',
    taken('apart'),
    'safety/instrument-volts',
  ),
  refused(
    'instrument-fits',
    'an instrument on earth where nobody knows the volts',
    withInstrument(notIsolated, 20),
    'reading-entered',
    taken('unknown'),
    'safety/instrument-volts',
  ),
  refused(
    'instrument-fits',
    'an instrument isolated to less than a probe may meet',
    withInstrument({ earthVolts: 300 }),
    'reading-entered',
    taken('ht-ac', 1),
    'safety/instrument-volts',
  ),
  refused(
    'instrument-fits',
    'an isolated instrument where nobody knows the volts',
    withInstrument(),
    'reading-entered',
    taken('unknown'),
    'safety/instrument-volts',
  ),
  refused(
    'by-hand',
    'an instrument enters a reading by itself',
    withInstrument(),
    'reading-entered',
    { ...taken('ht-ac', 250), by: 'instrument' },
    'safety/by-hand-only',
  ),
  refused(
    'by-hand',
    'an instrument records itself',
    fresh,
    'instrument-recorded',
    { instrument: onCable, by: 'instrument' },
    'safety/by-hand-only',
  ),
  refused(
    'numbers',
    'an insulation that is no number',
    fresh,
    'instrument-recorded',
    { instrument: { ...onCable, earthVolts: Number.NaN } },
    'safety/not-a-number',
  ),
];
