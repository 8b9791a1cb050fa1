import type { BuilderAction } from '../../../shared-core/contract/calls.ts';
import type { StepFacts } from '../../../shared-core/safety/facts.ts';
import { readingsOfStep } from '../../../shared-core/safety/lookup.ts';
import { walkBench } from '../../helpers/walk-kit.ts';
import { dcSetup } from '../../helpers/journey.ts';
import { valveEvents } from '../../helpers/match-valves.ts';
import type { FakeBridge } from './fake-bridge.ts';

/** A healthy build, done step by step behind the screen until a step is the one to do now. */
export function walkTo(bridge: FakeBridge, step: string): void {
  if (bridge.view().build.bench === null) bridge.do({ kind: 'bench-recorded', bench: walkBench, by: 'hand' });
  for (let turns = 0; turns < 300; turns += 1) {
    const { currentStep, facts, build } = bridge.view();
    if (build.safety.energy.kind === 'draining') proveEmpty(bridge);
    else if (currentStep === step) return;
    else
      doStep(
        bridge,
        facts.steps.find(({ id }) => id === currentStep),
      );
  }
  throw new Error(`${step} is never the step to do now`);
}

function doStep(bridge: FakeBridge, step: StepFacts | undefined): void {
  if (step === undefined) throw new Error('The build is at its end');
  const { id, action } = step;
  for (const item of step.inspect.keys()) {
    bridge.do({ kind: 'step-ticked', step: id, item, ticked: true, by: 'hand' });
  }
  if (action.kind === 'switch-on') return switchOn(bridge, action.condition, id);
  if (action.kind === 'fuse') {
    const fuse = bridge.view().facts.fuses.find(({ part }) => part === action.part);
    bridge.do({
      kind: 'fuse-read',
      part: action.part,
      amps: fuse?.amps ?? 0,
      speed: fuse?.speed ?? 'T',
      typed: '',
      by: 'hand',
    });
  }
  if (action.kind === 'switch-off') bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
  if (action.kind === 'soak') {
    bridge.do({ kind: 'step-started', step: id, by: 'hand' });
    bridge.pass(action.seconds);
  }
  for (const reading of readingsOfStep(step)) enterGood(bridge, reading);
  bridge.do({ kind: 'step-done', step: id, by: 'hand' });
}

/** Everything that a condition asks for on the spot, then the plug, then the warm-up. */
export function switchOn(bridge: FakeBridge, condition: string, step: string | null): void {
  makeReady(bridge, condition);
  bridge.do({ kind: 'plugged-in', condition, step, by: 'hand' });
  bridge.pass(200);
}

/** The confirmations alone. */
export function makeReady(bridge: FakeBridge, condition: string): void {
  const { facts, build, kit } = bridge.view();
  const typeOf = (socket: string): string => {
    const part = kit.parts.find(({ id }) => id === socket);
    return part?.kind === 'valve' ? part.type : '';
  };
  const isDead = build.safety.energy.kind === 'dead';
  for (const event of isDead ? valveEvents(build.safety, facts, condition, typeOf) : []) bridge.do(event);
  const { cautions = [] } = facts.conditions.find(({ id }) => id === condition) ?? {};
  if (!build.safety.blackLeadClipped) bridge.do({ kind: 'black-lead-clipped', by: 'hand' });
  if (build.safety.probeStyle === null) {
    bridge.do({ kind: 'probe-style-chosen', style: 'hooks', by: 'hand' });
  }
  for (const { id, text } of cautions) {
    bridge.do({ kind: 'caution-acknowledged', caution: id, text, by: 'hand' });
  }
  bridge.do({ kind: 'red-lead-in-volts', by: 'hand' });
  bridge.do({ kind: 'mains-switch-off', by: 'hand' });
}

/** What a healthy amplifier shows. */
export function goodFigure(bridge: FakeBridge, reading: string): string {
  const facts = bridge.view().facts.readings.find(({ id }) => id === reading);
  const figures = bridge.expectation(facts?.in ?? '').readings.find(({ id }) => id === reading);
  if (figures?.predicted === 'overload') return 'OL';
  // On the lamp nothing is predicted: well inside the stop limit is good.
  const { nominal = null, low = null, high = null, stopAbove = null } = figures ?? {};
  if (nominal !== null) return String(nominal);
  if (high !== null) return String(high / 2);
  return String(low !== null ? low * 10 : (stopAbove ?? 1) * 0.7);
}

function enterGood(bridge: FakeBridge, reading: string): void {
  const typed = goodFigure(bridge, reading);
  bridge.do({ kind: 'enter-reading', reading, typed, corrects: null, by: 'hand' });
}

/** Both looks at every store, with the meter shown to work before and after. */
export function proveEmpty(bridge: FakeBridge): void {
  const { energy, blackLeadClipped } = bridge.view().build.safety;
  if (energy.kind === 'draining' && energy.plugOut === null)
    bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
  if (!blackLeadClipped) bridge.do({ kind: 'black-lead-clipped', by: 'hand' });
  const shown: BuilderAction = { kind: 'meter-shown-to-work', setup: dcSetup, volts: 9.1, by: 'hand' };
  bridge.pass(100);
  bridge.do(shown);
  for (const round of [0, 1]) {
    for (const { part } of bridge.view().facts.stores) {
      bridge.pass(5);
      const volts = round === 0 ? 0.4 : 0.3;
      bridge.do({ kind: 'store-look', store: part, volts, setup: dcSetup, enteredAfterMs: 5000, by: 'hand' });
      const now = bridge.view().build.safety.energy;
      if (now.kind !== 'draining' || now.stores[part]?.needsChecks !== true) continue;
      const all = { place: true, dcFunction: true, range: true, hold: true, leads: true };
      bridge.do({ kind: 'look-checked', store: part, ...all, by: 'hand' });
    }
    bridge.pass(61);
  }
  bridge.do(shown);
}
