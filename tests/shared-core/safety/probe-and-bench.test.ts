import { describe, expect, test } from 'vitest';
import { deriveFacts } from '../../../shared-core/safety/derive-facts.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { finchBench } from '../../helpers/finch.ts';
import { dcSetup, enter, lookAll, showMeter } from '../../helpers/journey.ts';
import { draining, liveRunning, ready } from '../../helpers/safety/stages.ts';
import { scriptSafety } from '../../helpers/scripted-safety.ts';
import { asStated, chooseHeron } from '../prediction/heron.ts';

const nearNothing = { value: 0.02 };

describe('a reading that an open probe would pass', () => {
  test('counts once another place of the condition read a volt or more', () => {
    const amp = liveRunning(rulebook);
    enter(amp, 'b2-running', { value: 250 });
    enter(amp, 'grid-running', nearNothing);
    expect(amp.safety().readings['grid-running']?.verdict).toBe('as expected');
  });

  test('counts once the battery was read with the plug in, and not by that of the time before', () => {
    const amp = liveRunning(rulebook);
    amp.do('meter-shown-to-work', { setup: dcSetup, volts: 9 });
    expect(amp.safety().probeShown).toBe(true);
    amp.do('plug-out-confirmed');
    expect(amp.safety().probeShown).toBe(false);
  });

  test('is heard at once when it shows something', () => {
    const amp = liveRunning(rulebook);
    enter(amp, 'grid-running', { value: 4, verdict: 'stop' });
    expect(amp.safety().energy).toMatchObject({ mustPull: { kind: 'stop', reading: 'grid-running' } });
  });

  test('is in Heron the grid of the output valve, and nothing that has volts of its own', () => {
    const { chosen } = chooseHeron();
    const predictions = chosen.conditions.flatMap(
      ({ id }) => predictNominal(chosen, id, plainBench, asStated)?.prediction ?? [],
    );
    const drain = predictDrain(chosen, plainBench, asStated);
    const basis = { chosen, kitHash: 'abc', bench: plainBench, fitted: asStated, predictions, drain };
    const { readings } = deriveFacts(basis);
    const like = readings.filter(({ readsLikeOpen }) => readsLikeOpen).map(({ id }) => id);
    expect(like).toEqual(['v2-grid']);
    expect(readings.find(({ id }) => id === 'v2-anode-cold')?.expectsOverload).toBe(false);
  });
});

describe('a good verdict without a band', () => {
  test('is not believed where the kit states nothing, and opens no gate', () => {
    const amp = scriptSafety();
    const good = { typed: '1', verdict: 'as expected', bandShownBefore: false, corrects: null } as const;
    amp.do('reading-entered', {
      reading: 'primary',
      entry: { kind: 'value', value: 1 },
      band: null,
      ...good,
    });
    expect(amp.safety().readings['primary']?.verdict).toBe('not predicted');
    amp.do('reading-entered', { reading: 'primary', entry: { kind: 'overload' }, band: null, ...good });
    expect(amp.safety().readings['primary']?.verdict).toBe('not predicted');
    amp.do('reading-entered', { reading: 'line', entry: { kind: 'overload' }, band: null, ...good });
    expect(amp.safety().readings['line']?.verdict).toBe('as expected');
  });
});

describe('another meter', () => {
  const other = { ...finchBench, meter: { ...finchBench.meter, label: 'the old one' } };

  test('in the middle of a drain has to be shown to work, and its looks start again', () => {
    const amp = draining(rulebook);
    showMeter(amp);
    lookAll(amp, () => 0.1);
    amp.do('bench-recorded', { bench: other });
    amp.wait(61);
    lookAll(amp, () => 0.1);
    showMeter(amp);
    expect(amp.safety().energy.kind).toBe('draining');
    expect(amp.mayInside()).toBe(false);
  });

  test('the same meter recorded again takes nothing back', () => {
    const amp = draining(rulebook);
    showMeter(amp);
    amp.do('bench-recorded', { bench: { ...finchBench, batteryVolts: 1.5 } });
    const { energy } = amp.safety();
    expect(energy.kind === 'draining' && energy.meterProofs.length).toBe(1);
  });

  test('while the plug is still out is no more than a bench', () => {
    const amp = ready()(rulebook);
    amp.do('bench-recorded', { bench: other });
    expect(amp.safety().bench?.meter.label).toBe('the old one');
  });
});
