import type { SafetyFacts } from '../../../shared-core/safety/facts.ts';
import type { Rulebook } from '../../../shared-core/safety/guard.ts';
import { finch, finchFixedBias } from '../finch.ts';
import {
  dcSetup,
  enter,
  lookAll,
  makeReady,
  makeReadyAsIs,
  proveDead,
  showMeter,
  type Fields,
} from '../journey.ts';
import { buildFinch, passGate, scriptSafety, type ScriptedSafety } from '../scripted-safety.ts';

export const fresh = (rules: Rulebook): ScriptedSafety => scriptSafety({ rules });

/** Ready for the lamp stage, with one thing changed. */
export const ready =
  (change: (amp: ScriptedSafety) => void = () => undefined, facts: SafetyFacts = finch) =>
  (rules: Rulebook): ScriptedSafety => {
    const amp = scriptSafety({ rules, facts });
    buildFinch(amp);
    makeReady(amp, 'lamp');
    change(amp);
    return amp;
  };

export const liveOnLamp = (rules: Rulebook): ScriptedSafety => {
  const amp = ready()(rules);
  amp.do('plugged-in', { condition: 'lamp', step: 'on-lamp' });
  return amp;
};

/** Live in the last condition, nothing read there yet: the steps before it are left out of the kit. */
export const liveRunning = (rules: Rulebook): ScriptedSafety => {
  const short: SafetyFacts = { ...finch, steps: finch.steps.filter(({ id }) => !laterSteps.has(id)) };
  const amp = ready(() => undefined, short)(rules);
  makeReady(amp, 'running');
  amp.do('plugged-in', { condition: 'running', step: 'on-running' });
  amp.wait(61);
  return amp;
};
const laterSteps = new Set([
  ...['on-lamp', 'read-lamp', 'off-lamp', 'drain-lamp', 'fit-v3', 'on-rectifier', 'read-rectifier'],
]);

/** Plug pulled after the lamp stage, long enough for empty stores to be believable. */
export const draining = (rules: Rulebook): ScriptedSafety => {
  const amp = liveOnLamp(rules);
  enter(amp, 'ht-ac', { value: 250 });
  amp.do('plug-out-confirmed');
  amp.wait(240);
  return amp;
};

/** Proven dead after the lamp stage. */
export const provenDead = (rules: Rulebook): ScriptedSafety => {
  const amp = draining(rules);
  proveDead(amp);
  return amp;
};

/** Dead after a repair that left the lamp stage to be done, with everything else done again. */
export const repaired =
  (...done: readonly ('look over' | 'read' | 'ready')[]) =>
  (rules: Rulebook): ScriptedSafety => {
    const amp = provenDead(rules);
    amp.do('work-inside', { what: 'joint', places: ['TS1.4'], mainsSide: false, soldering: true });
    if (done.includes('look over')) amp.do('looked-over');
    if (done.includes('read')) enter(amp, 'b1-cold');
    makeReady(amp, 'lamp');
    return amp;
  };

export const stopped = (rules: Rulebook): ScriptedSafety => {
  const amp = liveOnLamp(rules);
  enter(amp, 'ht-ac', { value: 400 });
  return amp;
};

export const wrong = (rules: Rulebook): ScriptedSafety => {
  const amp = liveOnLamp(rules);
  amp.do('something-wrong');
  return amp;
};

export const cold = (reading: string): Fields<'reading-entered'> => ({
  reading,
  entry: { kind: 'value', value: 100 },
  typed: '100',
  verdict: 'as expected',
  band: null,
  bandShownBefore: false,
  corrects: null,
});
export const lookAt = (volts: number): Fields<'store-look'> => ({
  store: 'C1',
  volts,
  setup: dcSetup,
  enteredAfterMs: 5000,
});
/** What is printed on an invented valve. */
export const printed = { type: 'EZ81', brand: '', dateCode: '', stock: 'new', label: '' } as const;

/** Proven dead after the lamp stage, the rectifier put in for its own stage, then a joint mended. */
export const rectifierStillIn = (rules: Rulebook): ScriptedSafety => {
  const amp = provenDead(rules);
  amp.do('valve-fitted', { socket: 'V3', ...printed });
  amp.do('work-inside', { what: 'joint', places: ['TS1.4'], mainsSide: false, soldering: true });
  amp.do('looked-over');
  enter(amp, 'b1-cold');
  makeReadyAsIs(amp, 'lamp');
  return amp;
};

/** Somebody else's amplifier, proven dead and read cold; its sockets were never recorded. */
export const assembledReady = (rules: Rulebook): ScriptedSafety => {
  const amp = scriptSafety({ rules, startedFrom: 'assembled' });
  amp.do('declared-assembled');
  proveDead(amp);
  amp.do('step-ticked', { step: 'look', item: 0, ticked: true });
  amp.do('step-ticked', { step: 'look', item: 1, ticked: true });
  amp.do('step-done', { step: 'look' });
  passGate(amp);
  amp.do('step-done', { step: 'cold-read' });
  amp.do('step-done', { step: 'fuse' });
  makeReadyAsIs(amp, 'lamp');
  return amp;
};
export const onLamp = { condition: 'lamp', step: 'on-lamp' } as const;
export const biasFacts: SafetyFacts = {
  ...finchFixedBias,
  conditions: finchFixedBias.conditions.map((each) =>
    each.id === 'lamp' ? { ...each, fitted: 'all' } : each,
  ),
};

/** As `biasFacts`, the bias read with the plug out: for the adjusters' own story. */
export const coldBiasFacts: SafetyFacts = {
  ...biasFacts,
  readings: biasFacts.readings.map((each) => (each.id === 'v2-bias' ? { ...each, in: 'cold' } : each)),
};
export const clip = { ohms: 4700, watts: 10 } as const;

/** Somebody else's amplifier: draining, time unknown. */
export const assembled = (rules: Rulebook): ScriptedSafety =>
  scriptSafety({ rules, startedFrom: 'assembled' });

/** On the lamp with neither hooks nor hand-held chosen. */
export const liveWithoutStyle = (rules: Rulebook): ScriptedSafety => {
  const amp = scriptSafety({ rules });
  buildFinch(amp);
  amp.do('black-lead-clipped');
  amp.do('caution-acknowledged', { caution: 'lamp:0', text: '' });
  amp.do('red-lead-in-volts');
  amp.do('mains-switch-off');
  amp.do('plugged-in', onLamp);
  return amp;
};

/** All but the black lead is confirmed for a condition. */
export const withoutBlackLead =
  (condition: string) =>
  (rules: Rulebook): ScriptedSafety => {
    const amp = scriptSafety({ rules });
    buildFinch(amp);
    for (const { id, text } of amp.facts.conditions.find((each) => each.id === condition)?.cautions ?? [])
      amp.do('caution-acknowledged', { caution: id, text });
    amp.do('probe-style-chosen', { style: 'hooks' });
    amp.do('red-lead-in-volts');
    amp.do('mains-switch-off');
    return amp;
  };

/** Loose parts with a discharge clip on C1. */
export const withClip = (rules: Rulebook): ScriptedSafety => {
  const amp = scriptSafety({ rules });
  amp.do('black-lead-clipped');
  amp.do('clip-fitted', { store: 'C1', ...clip });
  return amp;
};

/** Proven dead with some volts (V) left on every store. */
export const deadAt =
  (volts: number) =>
  (rules: Rulebook): ScriptedSafety => {
    const amp = draining(rules);
    proveDead(amp, () => volts);
    return amp;
  };

/** A stop, with the plug out since. */
export const stoppedAndOut = (rules: Rulebook): ScriptedSafety => {
  const amp = stopped(rules);
  amp.do('plug-out-confirmed');
  return amp;
};

/** An earth bond out of band. */
export const poorEarth = (rules: Rulebook): ScriptedSafety => {
  const amp = scriptSafety({ rules });
  enter(amp, 'earth', { value: 0.9 });
  return amp;
};

/** A fuse replaced, and both its sides looked at again. */
export const fuseReplaced = (rules: Rulebook): ScriptedSafety => {
  const amp = provenDead(rules);
  amp.do('fuse-sides-looked', { part: 'F1', aVolts: 0, bVolts: 0 });
  amp.do('fuse-replaced', { part: 'F1', amps: 0.5, speed: 'T' });
  amp.do('fuse-sides-looked', { part: 'F1', aVolts: 0, bVolts: 0 });
  return amp;
};

/** Draining, ready to go back in, but a clip was moved. */
export const movedClip = (rules: Rulebook): ScriptedSafety => {
  const amp = draining(rules);
  amp.do('clip-fitted', { store: 'C1', ...clip });
  amp.do('clip-removed', { store: 'C1' });
  makeReady(amp, 'lamp');
  return amp;
};

/** Draining after the host was started anew. */
export const restarted = (rules: Rulebook): ScriptedSafety => {
  const amp = draining(rules);
  amp.clock.restart();
  amp.do('plug-out-confirmed');
  makeReady(amp, 'lamp');
  return amp;
};

/** Ready, but an earlier step was opened again. */
export const withReopened = ready((amp) => amp.do('step-reopened', { step: 'wire-ht', why: 'doubt' }));

/** Ready again after work on the mains side, the fuse not read back. */
export const mainsWork = (rules: Rulebook): ScriptedSafety => {
  const amp = ready()(rules);
  amp.do('work-inside', { what: 'inlet', places: ['inlet.line'], mainsSide: true, soldering: true });
  amp.do('looked-over');
  for (const reading of ['earth', 'line', 'neutral', 'primary', 'b1-cold']) enter(amp, reading);
  amp.do('insulation-not-tested');
  makeReady(amp, 'lamp');
  return amp;
};

/** Ready, but nobody settled the insulation. */
export const insulationOpen = (rules: Rulebook): ScriptedSafety => {
  const amp = ready()(rules);
  amp.do('work-inside', { what: 'inlet', places: ['inlet.line'], mainsSide: true, soldering: true });
  amp.do('looked-over');
  for (const reading of ['earth', 'line', 'neutral', 'primary', 'b1-cold']) enter(amp, reading);
  amp.do('fuse-read', { part: 'F1', amps: 0.5, speed: 'T', typed: 'T 500 mA' });
  makeReady(amp, 'lamp');
  return amp;
};

/** Something was wrong, the amplifier is dead and looked over, but it was never said what it was. */
export const wrongNotDescribed = (rules: Rulebook): ScriptedSafety => {
  const amp = wrong(rules);
  amp.do('plug-out-confirmed');
  amp.wait(240);
  proveDead(amp);
  amp.do('looked-over');
  enter(amp, 'b1-cold');
  makeReady(amp, 'lamp');
  return amp;
};

/** Clips on both stores. */
export function fitClips(amp: ScriptedSafety): void {
  for (const store of ['C1', 'C2']) amp.do('clip-fitted', { store, ...clip });
}

/** The whole proof but the last word: the meter after. */
export function proveButMeter(amp: ScriptedSafety): void {
  showMeter(amp);
  lookAll(amp, () => 0.1);
  amp.wait(61);
  lookAll(amp, () => 0.1);
}
