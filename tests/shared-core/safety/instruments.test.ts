import { describe, expect, test } from 'vitest';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { cold } from '../../helpers/safety/stages.ts';
import { taken, withInstrument } from '../../helpers/safety/instrument-scenarios.ts';

describe('a number offered by an instrument', () => {
  test('counts once a hand enters it, where its insulation reaches', () => {
    const amp = withInstrument()(rulebook);
    expect(amp.codes('reading-entered', taken('ht-ac', 250))).toEqual([]);
    amp.do('reading-entered', taken('ht-ac', 250));
    expect(amp.safety().readings['ht-ac']?.value).toBe(250);
  });

  test('counts on earth where nothing in the amplifier is above the safe voltage', () => {
    const amp = withInstrument({ isolated: false, earthVolts: 0 }, 20)(rulebook);
    expect(amp.codes('reading-entered', taken('heater-ac'))).toEqual([]);
  });

  test('leaves typing as it was: whatever the instrument is refused for can be typed', () => {
    const amp = withInstrument({ isolated: false, earthVolts: 0 })(rulebook);
    expect(amp.codes('reading-entered', taken('ht-ac', 250))).toContain('safety/instrument-volts');
    expect(amp.codes('reading-entered', { ...cold('ht-ac') })).toEqual([]);
  });

  test('is judged by what was recorded last', () => {
    const amp = withInstrument({ earthVolts: 60 })(rulebook);
    const first = amp.safety().instruments?.[0];
    if (first === undefined) throw new Error('No instrument was recorded.');
    amp.do('instrument-recorded', { instrument: { ...first, earthVolts: 500 } });
    expect(amp.safety().instruments).toHaveLength(1);
    expect(amp.codes('reading-entered', taken('ht-ac', 250))).toEqual([]);
  });
});
