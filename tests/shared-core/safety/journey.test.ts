import { expect, test } from 'vitest';
import { buildFinch, endCondition, scriptSafety } from '../../helpers/scripted-safety.ts';
import { enter, plugIn } from '../../helpers/journey.ts';

test('takes Finch from loose parts to running', () => {
  const amp = scriptSafety();
  buildFinch(amp);
  plugIn(amp, 'lamp', 'on-lamp');
  enter(amp, 'ht-ac', { value: 250 });
  amp.do('step-done', { step: 'read-lamp' });
  endCondition(amp);
  expect(amp.safety().energy.kind).toBe('dead');
  amp.do('step-done', { step: 'off-lamp' });
  amp.do('step-done', { step: 'drain-lamp' });
  amp.do('step-done', { step: 'fit-v3' });
  plugIn(amp, 'rectifier', 'on-rectifier');
  enter(amp, 'b1-unloaded', { value: 340 });
  amp.do('step-done', { step: 'read-rectifier' });
  endCondition(amp);
  plugIn(amp, 'running', 'on-running');
  amp.wait(70);
  enter(amp, 'b2-running', { value: 250 });
  amp.do('step-done', { step: 'read-running' });
  endCondition(amp);
  expect(amp.mayInside()).toBe(true);
});
