import { describe, expect, test } from 'vitest';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { finchBench } from '../../helpers/finch.ts';
import { dcSetup, enter, makeReady, proveDead } from '../../helpers/journey.ts';
import { passGate, scriptSafety } from '../../helpers/scripted-safety.ts';
import { biasFacts, draining, liveOnLamp, provenDead, ready } from '../../helpers/safety/stages.ts';

const onLamp = { condition: 'lamp', step: 'on-lamp' };
const asLive = { kind: 'overload' } as const;

describe('what proves the cold gate or a bias', () => {
  test('is read in band: "not predicted" proves nothing', () => {
    const amp = ready((each) => enter(each, 'primary', { value: 0.4, verdict: 'not predicted' }))(rulebook);
    amp.do('mains-switch-off');
    expect(amp.codes('plugged-in', onLamp)).toContain('safety/gate-not-met');
  });

  test('goes for the bias at a grid pin as well', () => {
    const amp = scriptSafety({ facts: biasFacts });
    passGate(amp);
    amp.do('adjuster-set', { adjuster: 'P1', mostNegative: true });
    amp.force({
      ...{ kind: 'reading-entered', reading: 'v2-bias', entry: { kind: 'value', value: -2 }, typed: '-2' },
      ...{ verdict: 'not predicted', band: null, bandShownBefore: false, corrects: null, by: 'hand' },
    });
    makeReady(amp, 'lamp');
    expect(amp.codes('plugged-in', onLamp)).toContain('safety/bias-not-proven');
    expect(
      amp.codes('valve-fitted', {
        ...{ socket: 'V2', type: 'EL34', brand: '', dateCode: '', stock: 'new', label: '' },
      }),
    ).toContain('safety/bias-not-proven');
  });
});

describe('the earth bond', () => {
  const withLeads = (ohms: number) =>
    ready((amp) => {
      amp.do('bench-recorded', { bench: { ...finchBench, leads: { ratedVolts: 1000, ohms } } });
      enter(amp, 'earth', { value: 0.6 });
      makeReady(amp, 'lamp');
    })(rulebook);

  test('passes with the ohms of sound leads taken off', () => {
    expect(withLeads(0.4).codes('plugged-in', onLamp)).toEqual([]);
  });

  test('never passes by lead ohms that no sound pair has', () => {
    expect(withLeads(30).codes('plugged-in', onLamp)).toContain('safety/gate-not-met');
  });

  test('never passes below the leads alone: one of the two figures is wrong', () => {
    expect(withLeads(0.95).codes('plugged-in', onLamp)).toContain('safety/gate-not-met');
  });
});

test('OL on a live voltage is past every limit, whatever verdict came with it', () => {
  const amp = liveOnLamp(rulebook);
  enter(amp, 'ht-ac', { entry: asLive, verdict: 'as expected' });
  expect(amp.safety().readings['ht-ac']?.verdict).toBe('stop');
  expect(amp.safety().energy).toMatchObject({ mustPull: { kind: 'stop', reading: 'ht-ac' } });
});

test('OL where a band was shown is out of band, whatever verdict came with it', () => {
  const amp = ready()(rulebook);
  const band = { low: 20, nominal: 28, high: 33, lowest: 18, highest: 35 };
  enter(amp, 'primary', { entry: asLive, verdict: 'as expected', band });
  expect(amp.safety().readings['primary']?.verdict).toBe('out of band');
});

test('a battery that shows next to nothing shows no meter to work', () => {
  const amp = draining(rulebook);
  amp.do('bench-recorded', { bench: { ...finchBench, batteryVolts: 0.01 } });
  expect(amp.codes('meter-shown-to-work', { setup: dcSetup, volts: 0.01 })).toContain(
    'safety/meter-not-shown',
  );
});

describe('after a journal that does not hold together', () => {
  const cut = { suspect: true, why: 'line 7: its content was changed' };

  test('what was lost may be a stop, a repair or work on the mains side: the gate is passed again', () => {
    const amp = provenDead(rulebook);
    amp.do('journal-cut', cut);
    proveDead(amp);
    makeReady(amp, 'lamp');
    const codes = amp.codes('plugged-in', onLamp);
    for (const code of [
      'safety/gate-not-met',
      'safety/insulation-not-settled',
      'safety/fuse-not-read',
      'safety/after-work',
    ]) {
      expect(codes).toContain(code);
    }
  });

  test('what blocked before the cut still blocks', () => {
    const amp = provenDead(rulebook);
    enter(amp, 'b2-cold', { value: 1, verdict: 'out of band' });
    amp.do('journal-cut', cut);
    proveDead(amp);
    makeReady(amp, 'lamp');
    expect(amp.codes('plugged-in', onLamp)).toContain('safety/verdict-open');
  });
});
