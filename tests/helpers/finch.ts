import type { Bench } from '../../shared-core/prediction/bench.ts';
import type { DrainCurve, StorePrediction } from '../../shared-core/prediction/prediction.ts';
import type {
  ConditionFacts,
  FixedBiasFacts,
  ReadingFacts,
  SafetyFacts,
  StepFacts,
} from '../../shared-core/safety/facts.ts';

/** A bench that meets every gate of Finch. */
export const finchBench: Bench = {
  mains: { volts: 230, hertz: 50, source: 'measured' },
  meter: {
    label: 'digital, 10 MΩ',
    input: { kind: 'fixed', ohms: 10e6 },
    accuracy: { dcVolts: 0.01, acVolts: 0.015, ohms: 0.01 },
    ratedVolts: 1000,
    category: 'CAT II',
  },
  leads: { ratedVolts: 1000, ohms: 0.2 },
  lampWatts: 60,
  batteryVolts: 9,
  hasInsulationTester: true,
};

/** Finch: an invented kit that is just large enough for every safety rule. */
export const finch: SafetyFacts = {
  kitHash: 'finch-a',
  revision: 'A',
  safeVolts: 30,
  stores: [store('C1', 340, 20), store('C2', 330, 25)],
  primaryVolts: 230,
  conditions: [
    condition('cold', 'unplugged', { fitted: [] }),
    condition('tester', 'insulation-tester', { maxVolts: 550, fitted: [] }),
    condition('lamp', 'lamp', { lampWatts: 60, maxVolts: 400, hasMainsSideReadings: true, fitted: [] }),
    condition('rectifier', 'mains', { maxVolts: 420, fitted: ['V3'] }),
    condition('running', 'mains', { maxVolts: 420, fitted: 'all', allValves: true, readyAfterSeconds: 60 }),
  ],
  steps: [
    step('gather', { action: { kind: 'gather' }, reach: 'outside' }),
    step('wire-mains', { action: { kind: 'assemble' }, mainsSide: true, nets: ['mains-line'] }),
    step('wire-ht', { action: { kind: 'assemble' }, nets: ['b1', 'b2'] }),
    step('look', { action: { kind: 'inspect' }, inspect: ['no splashes', 'clearances'] }),
    step('cold-read', {
      action: { kind: 'read', readings: ['earth', 'line', 'neutral', 'primary', 'b1-cold'] },
      condition: 'cold',
    }),
    step('fuse', { action: { kind: 'fuse', part: 'F1' }, reach: 'outside' }),
    step('on-lamp', {
      action: { kind: 'switch-on', condition: 'lamp' },
      reach: 'outside',
      condition: 'lamp',
    }),
    step('read-lamp', { action: { kind: 'read', readings: ['ht-ac'] }, reach: 'probe', condition: 'lamp' }),
    step('off-lamp', { action: { kind: 'switch-off' }, reach: 'outside' }),
    step('drain-lamp', { action: { kind: 'drain' }, reach: 'probe' }),
    step('fit-v3', { action: { kind: 'assemble' }, onlyValves: true }),
    step('on-rectifier', {
      action: { kind: 'switch-on', condition: 'rectifier' },
      reach: 'outside',
      condition: 'rectifier',
    }),
    step('read-rectifier', {
      action: { kind: 'read', readings: ['b1-unloaded'] },
      reach: 'probe',
      condition: 'rectifier',
    }),
    step('on-running', {
      action: { kind: 'switch-on', condition: 'running' },
      reach: 'outside',
      condition: 'running',
    }),
    step('read-running', {
      action: { kind: 'read', readings: ['b2-running'] },
      reach: 'probe',
      condition: 'running',
    }),
  ],
  readings: [
    reading('earth', {
      at: 'inlet.earth',
      against: 'chassis',
      proves: 'earth-bond',
      mainsSide: true,
      expect: { below: 0.3 },
    }),
    reading('line', {
      at: 'inlet.line',
      against: 'chassis',
      proves: 'line-apart',
      mainsSide: true,
      expect: { overload: true },
    }),
    reading('neutral', {
      at: 'inlet.neutral',
      against: 'chassis',
      proves: 'neutral-apart',
      mainsSide: true,
      expect: { overload: true },
    }),
    reading('primary', { at: 'inlet.line', against: 'inlet.neutral', proves: 'primary', mainsSide: true }),
    reading('insulation', {
      at: 'inlet.line',
      against: 'chassis',
      measure: 'insulation',
      in: 'tester',
      proves: 'insulation',
      mainsSide: true,
      expect: { above: 1e6 },
    }),
    reading('b1-cold', { at: 'TS1.4', joinedStores: ['C1'] }),
    reading('b2-cold', { at: 'TS1.2', joinedStores: ['C2'] }),
    reading('ht-ac', { at: 'V3.1', measure: 'ac volts', in: 'lamp', stopAbove: 300, probeVolts: 250 }),
    reading('b1-unloaded', {
      at: 'TS1.4',
      measure: 'dc volts',
      in: 'rectifier',
      stopAbove: 450,
      probeVolts: 340,
    }),
    reading('grid-running', {
      at: 'V2.2',
      measure: 'dc volts',
      in: 'running',
      stopAbove: 1,
      stopBelow: -1,
      readsLikeOpen: true,
    }),
    reading('b2-running', {
      at: 'TS1.2',
      measure: 'dc volts',
      in: 'running',
      stopAbove: 450,
      probeVolts: 250,
    }),
  ],
  fuses: [{ part: 'F1', amps: 0.5, volts: 250, speed: 'T', mainsSide: true }],
  fixedBias: [],
  sockets: ['V2', 'V3'],
  lampStage: 'lamp',
  coldReadingsOf: { b1: ['b1-cold'], b2: ['b2-cold', 'b1-cold'], 'mains-line': ['line'] },
  htToChassis: ['b1-cold'],
  netOf: { 'TS1.4': 'b1', 'TS1.2': 'b2', 'V3.1': 'ht-a', 'inlet.line': 'mains-line', chassis: 'chassis' },
};

const bias: FixedBiasFacts = { socket: 'V2', readings: ['v2-bias'], adjusters: ['P1'] };

/** Finch with a fixed-bias output valve in V2. */
export const finchFixedBias: SafetyFacts = {
  ...finch,
  readings: [
    ...finch.readings,
    reading('v2-bias', {
      at: 'V2.5',
      measure: 'dc volts',
      in: 'rectifier',
      stopAbove: 0,
      stopBelow: -90,
      probeVolts: 50,
    }),
  ],
  fixedBias: [bias],
};

function condition(
  id: string,
  supply: ConditionFacts['supply'],
  more: Partial<ConditionFacts>,
): ConditionFacts {
  return {
    id,
    title: id,
    supply,
    fitted: [],
    allValves: false,
    lampWatts: null,
    maxVolts: null,
    hasMainsSideReadings: false,
    readyAfterSeconds: 0,
    cautions:
      supply === 'unplugged' ? [] : [{ id: `${id}:0`, level: 'danger', text: 'One hand. Nobody alone.' }],
    ...more,
  };
}

function step(id: string, more: Partial<StepFacts> & Pick<StepFacts, 'action'>): StepFacts {
  return {
    id,
    title: id,
    chapter: 'all',
    reach: 'inside',
    condition: null,
    required: true,
    mainsSide: false,
    onlyValves: false,
    nets: [],
    cautions: [],
    inspect: [],
    ...more,
  };
}

function reading(id: string, more: Partial<ReadingFacts> & Pick<ReadingFacts, 'at'>): ReadingFacts {
  return {
    id,
    title: id,
    against: 'gnd',
    measure: 'ohms',
    in: 'cold',
    expect: null,
    stopAbove: null,
    stopBelow: null,
    proves: null,
    expectsOverload: false,
    readsLikeOpen: false,
    mainsSide: false,
    probeVolts: null,
    joinedStores: [],
    ...more,
  };
}

/** A store that discharges exponentially: fast, likely and slow differ by a factor of two each. */
function store(part: string, volts: number, likelyTau: number): StorePrediction {
  const seconds = (tau: number): number => tau * Math.log(volts / 30);
  return {
    part,
    plus: `${part}.+`,
    minus: `${part}.-`,
    volts,
    joules: 0.5 * 47e-6 * volts ** 2,
    fastSeconds: seconds(likelyTau / 2),
    likelySeconds: seconds(likelyTau),
    slowSeconds: seconds(likelyTau * 2),
    fast: decay(volts, likelyTau / 2),
    likely: decay(volts, likelyTau),
    slow: decay(volts, likelyTau * 2),
  };
}

function decay(volts: number, tau: number): DrainCurve {
  const seconds = Array.from({ length: 61 }, (_, index) => (index * 6 * tau) / 60);
  return { seconds, volts: seconds.map((each) => volts * Math.exp(-each / tau)) };
}
