import { finch } from '../finch.ts';
import { dcSetup, look, lookAll, showMeter } from '../journey.ts';
import { scriptSafety } from '../scripted-safety.ts';
import { closed, lapsing, needsOf, type Scenario } from './scenario.ts';
import { assembled, fitClips, liveOnLamp, lookAt, proveButMeter } from './stages.ts';

/** One story or more for each thing that a proof needs. */
export const proofScenarios: readonly Scenario[] = [
  {
    rule: 'proof/stores-known',
    name: 'a kit of which no store is known',
    isSafe: (rules) =>
      needsOf(
        scriptSafety({ rules, startedFrom: 'assembled', facts: { ...finch, stores: [] } }),
        rules,
      ).includes('safety/stores-unknown'),
  },
  {
    rule: 'proof/plug-out',
    name: 'nobody said that the plug is out',
    isSafe: (rules) => needsOf(assembled(rules), rules).includes('safety/plug-not-confirmed-out'),
  },
  closed('proof/first-looks', 'one store stands for another', (amp) => {
    showMeter(amp);
    look(amp, 'C1', 0.1);
    amp.wait(61);
    look(amp, 'C1', 0.1);
    showMeter(amp);
  }),
  closed('proof/second-looks', 'only one look at each store', (amp) => {
    showMeter(amp);
    lookAll(amp, () => 0.1);
    showMeter(amp);
  }),
  closed('proof/second-looks', 'a second look after 50 s', (amp) => {
    showMeter(amp);
    lookAll(amp, () => 0.1);
    amp.wait(45);
    look(amp, 'C1', 0.1);
    look(amp, 'C2', 0.1);
    showMeter(amp);
  }),
  {
    rule: 'proof/looks-checked',
    name: 'a look too low for a few seconds of drain, never checked',
    isSafe: (rules) => {
      const amp = liveOnLamp(rules);
      amp.do('plug-out-confirmed');
      fitClips(amp);
      showMeter(amp);
      for (const store of ['C1', 'C2']) amp.do('store-look', { ...lookAt(0), store });
      showMeter(amp);
      return !amp.mayInside();
    },
  },
  closed('proof/meter-before', 'meter not shown before', (amp) => {
    fitClips(amp);
    lookAll(amp, () => 0.1);
    showMeter(amp);
  }),
  closed('proof/meter-before', 'meter shown on another range', (amp) => {
    fitClips(amp);
    showMeter(amp, { ...dcSetup, range: '20 V' });
    lookAll(amp, () => 0.1);
    showMeter(amp);
  }),
  closed('proof/meter-after', 'meter not shown after', (amp) => {
    proveButMeter(amp);
  }),
];

/** One story or more for each way in which a proof lapses. */
export const lapseScenarios: readonly Scenario[] = [
  lapsing('lapse/new-run', 'the app was closed', (amp) => amp.clock.restart()),
  lapsing('lapse/clocks-differ', 'the computer slept for six seconds', (amp) => amp.clock.jump(6)),
  lapsing('lapse/clocks-differ', 'the wall clock was set back', (amp) => amp.clock.jump(-6)),
  lapsing('lapse/heartbeats-missed', 'heartbeats were missing', (amp) => {
    amp.wait(8);
    amp.do('heartbeat', { missedMs: 8000 });
  }),
  lapsing('lapse/idle', 'an idle hour', (amp) => amp.wait(3600)),
];
