import { describe, expect, it } from 'vitest';
import {
  conditionToFitFor,
  reentryStep,
  stepPlace,
  walkMode,
} from '../../../../renderer/features/walk/walk-mode.ts';
import { refusals } from '../../../../shared-core/safety/safety.ts';
import { fakeBridge, heron } from '../../helpers/fake-bridge.ts';
import type { FakeBridge } from '../../helpers/fake-bridge.ts';
import { proveEmpty, walkTo } from '../../helpers/walk-to.ts';

function modeOf(bridge: FakeBridge, wanted?: string) {
  const { build, facts, currentStep, now } = bridge.view();
  const again = reentryStep(build.safety, facts, (event) => refusals(build.safety, event, now, facts));
  return walkMode(build.safety, facts, wanted ?? currentStep, wanted !== undefined, again);
}

function at(step: string): FakeBridge {
  const bridge = fakeBridge();
  walkTo(bridge, step);
  return bridge;
}

describe('what the middle of the screen is for', () => {
  it('is the step to do now while nothing is in the way', () => {
    expect(modeOf(at('fit-c1'))).toEqual({ kind: 'step', step: 'fit-c1' });
  });

  it('is the plug, and nothing else, past a stop limit, whatever step is chosen', () => {
    const bridge = at('read-rectifier');
    bridge.do({ kind: 'enter-reading', reading: 'b1-unloaded', typed: '460', corrects: null, by: 'hand' });
    expect(modeOf(bridge)).toEqual({ kind: 'pull' });
    expect(modeOf(bridge, 'fit-c1')).toEqual({ kind: 'pull' });
  });

  it('is the drain once the plug is out, whatever step is chosen', () => {
    const bridge = at('off-rectifier');
    bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
    expect(modeOf(bridge)).toEqual({ kind: 'drain' });
    expect(modeOf(bridge, 'fit-v1-v2')).toEqual({ kind: 'drain' });
  });

  it('is the switch-on of the same condition, once chosen, while nothing was touched since', () => {
    const bridge = at('off-rectifier');
    bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
    expect(modeOf(bridge, 'on-rectifier')).toEqual({ kind: 'step', step: 'on-rectifier' });
    expect(modeOf(bridge, 'on-no-valves')).toEqual({ kind: 'drain' });
    expect(modeOf(bridge)).toEqual({ kind: 'drain' });
    const store = bridge.view().facts.stores[0]?.part ?? '';
    bridge.do({ kind: 'clip-fitted', store, ohms: 4700, watts: 10, by: 'hand' });
    expect(modeOf(bridge, 'on-rectifier')).toEqual({ kind: 'drain' });
  });

  it('asks for the plug first where its state is not known', () => {
    expect(modeOf(fakeBridge('assembled'))).toEqual({ kind: 'plug-out' });
  });

  it('keeps to the live condition: a step from elsewhere is not shown', () => {
    expect(modeOf(at('read-lamp'), 'fit-c1')).toEqual({ kind: 'live', condition: 'lamp-no-valves' });
    expect(modeOf(at('read-lamp'), 'off-lamp')).toEqual({ kind: 'step', step: 'off-lamp' });
  });

  it('asks for words after something was wrong, then for what work inside asks for', () => {
    const bridge = at('read-lamp');
    bridge.do({ kind: 'something-wrong', by: 'hand' });
    bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
    expect(modeOf(bridge)).toEqual({ kind: 'describe' });
    bridge.do({ kind: 'wrong-described', signs: ['arc'], what: '', by: 'hand' });
    expect(modeOf(bridge)).toEqual({ kind: 'drain' });
    proveEmpty(bridge);
    expect(modeOf(bridge)).toEqual({ kind: 'after-work' });
    expect(modeOf(bridge, 'fit-c1')).toEqual({ kind: 'step', step: 'fit-c1' });
    expect(modeOf(bridge, 'on-rectifier')).toEqual({ kind: 'after-work' });
  });

  it('is finished when no step is left', () => {
    const { build, facts } = fakeBridge().view();
    expect(walkMode(build.safety, facts, null)).toEqual({ kind: 'finished' });
  });
});

describe('a step among the others', () => {
  it('has its number and its chapter', () => {
    const { chapters } = heron.kit;
    const all = chapters.flatMap(({ steps }) => steps);
    expect(stepPlace(chapters, all[0]?.id ?? '')).toEqual({
      number: 1,
      of: all.length,
      chapter: chapters[0]?.title,
    });
    expect(stepPlace(chapters, all.at(-1)?.id ?? '').number).toBe(all.length);
  });

  it('makes the sockets ready at the last step inside before the plug', () => {
    expect(conditionToFitFor(heron.facts, 'fit-v3')?.id).toBe('rectifier');
    expect(conditionToFitFor(heron.facts, 'fit-v1-v2')?.id).toBe('running');
    expect(conditionToFitFor(heron.facts, 'fit-c1')).toBeNull();
  });
});
