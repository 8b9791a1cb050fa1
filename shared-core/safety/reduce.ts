import { assertNever } from '../problem/assert-never.ts';
import { afterCut, unknownDraining } from './initial-safety.ts';
import { apartSteps } from './compare.ts';
import type { Bench } from '../prediction/bench.ts';
import type { SafetyState, StepStanding } from './energy-state.ts';
import type { ClipFitted, ClipRemoved, SafetyEvent } from './events.ts';
import type { SafetyFacts } from './facts.ts';
import { secondLookAfterMs } from './limits.ts';
import { safeVoltsOf } from './lookup.ts';
import { reduceDeadLook, reduceLook } from './reduce-drain.ts';
import {
  backToLampStage,
  reduceFoundPluggedIn,
  reducePlugIn,
  reducePlugOut,
  reduceSomethingWrong,
} from './reduce-plug.ts';
import { reduceReading } from './reduce-reading.ts';
import { reduceKitChanged, reduceRepaired, reduceStepDone, reduceWorkInside } from './reduce-work.ts';
import type { Stamp } from './stamp.ts';

/** What an event that nothing refuses does to the state; proofs are settled afterwards. */
export function reduce(
  state: SafetyState,
  event: SafetyEvent,
  stamp: Stamp,
  facts: SafetyFacts,
): SafetyState {
  switch (event.kind) {
    case 'run-started':
    case 'heartbeat':
      return state;
    case 'journal-cut':
      return afterCut(state, event);
    case 'plugged-in':
      return reducePlugIn(state, event, stamp, facts);
    case 'found-plugged-in':
      return reduceFoundPluggedIn(state, stamp);
    case 'plug-out-confirmed':
      return reducePlugOut(state, stamp, facts);
    case 'something-wrong':
      return reduceSomethingWrong(state, stamp, facts);
    case 'reading-entered':
      return reduceReading(state, event, stamp, facts);
    case 'store-look':
      return state.energy.kind === 'draining'
        ? reduceLook(state, state.energy, event, stamp, facts)
        : reduceDeadLook(state, event, stamp, facts);
    case 'clip-fitted':
    case 'clip-removed':
    case 'black-lead-clipped':
      return reduceClip(state, event, stamp);
    case 'work-inside':
      return reduceWorkInside(state, event, facts);
    case 'repaired':
      return reduceRepaired(state, event, facts);
    case 'step-started':
    case 'step-ticked':
    case 'step-done':
    case 'step-reopened':
      return reduceStep(state, event, stamp, facts);
    case 'kit-changed':
      return reduceKitChanged(state, event, stamp);
    default:
      return reduceRecorded(state, event, stamp, facts);
  }
}

type Recorded = Exclude<
  SafetyEvent,
  {
    readonly kind:
      | 'run-started'
      | 'heartbeat'
      | 'journal-cut'
      | 'plugged-in'
      | 'found-plugged-in'
      | 'plug-out-confirmed'
      | 'something-wrong'
      | 'reading-entered'
      | 'store-look'
      | 'clip-fitted'
      | 'clip-removed'
      | 'black-lead-clipped'
      | 'work-inside'
      | 'repaired'
      | 'step-started'
      | 'step-ticked'
      | 'step-done'
      | 'step-reopened'
      | 'kit-changed';
  }
>;

/** Confirmations and records that change one thing each. */
function reduceRecorded(state: SafetyState, event: Recorded, stamp: Stamp, facts: SafetyFacts): SafetyState {
  switch (event.kind) {
    case 'bench-recorded':
      return { ...withoutMeterProofs(state, event.bench), bench: event.bench, redLeadInVolts: false };
    case 'instrument-recorded': {
      const others = (state.instruments ?? []).filter(
        ({ identity }) => identity !== event.instrument.identity,
      );
      return { ...state, instruments: [...others, event.instrument] };
    }
    case 'declared-assembled':
      return reduceDeclared(state, stamp, facts);
    case 'meter-shown-to-work': {
      const { energy } = state;
      if (energy.kind === 'live') return { ...state, probeShown: true };
      if (energy.kind !== 'draining') return state;
      const proof = { stamp, how: 'battery' as const, setup: event.setup };
      return { ...state, energy: { ...energy, meterProofs: [...energy.meterProofs, proof] } };
    }
    case 'caution-acknowledged':
      return { ...state, acknowledged: { ...state.acknowledged, [event.caution]: stamp } };
    case 'insulation-not-tested':
      return { ...state, gate: { ...state.gate, insulationNotTested: true } };
    case 'fuse-read':
      return { ...state, gate: { ...state.gate, fusesRead: withItem(state.gate.fusesRead, event.part) } };
    case 'verdict-accepted':
      return reduceAccepted(state, event.reading, facts);
    case 'mains-switch-off':
      return { ...state, mainsSwitchOff: true };
    case 'probe-style-chosen':
      return { ...state, probeStyle: event.style };
    case 'red-lead-in-volts':
      return { ...state, redLeadInVolts: true };
    case 'look-checked':
      return reduceChecked(state, event.store);
    case 'looked-over':
      return state.afterWork === null
        ? state
        : { ...state, afterWork: { ...state.afterWork, lookedOver: true } };
    case 'wrong-described':
      return state.wrong === null ? state : { ...state, wrong: { ...state.wrong, signs: event.signs } };
    case 'fuse-sides-looked': {
      const isProven = Math.max(Math.abs(event.aVolts), Math.abs(event.bVolts)) < safeVoltsOf(facts);
      if (isProven) return { ...state, fuseSidesProven: withItem(state.fuseSidesProven, event.part) };
      const charged = { ...state, fuseSidesProven: without(state.fuseSidesProven, event.part) };
      if (state.energy.kind !== 'dead') return charged;
      return {
        ...charged,
        energy: unknownDraining('charge found', stamp),
        everPluggedIn: true,
        deadVolts: {},
      };
    }
    case 'fuse-replaced':
      return {
        ...backToLampStage(state, facts),
        fusesReplaced: withItem(state.fusesReplaced, event.part),
        fuseSidesProven: [],
      };
    case 'adjuster-set':
      return {
        ...state,
        adjustersMostNegative: event.mostNegative
          ? withItem(state.adjustersMostNegative, event.adjuster)
          : without(state.adjustersMostNegative, event.adjuster),
      };
    case 'valve-fitted':
      return {
        ...state,
        valvesFitted: withItem(state.valvesFitted, event.socket),
        valvesOut: without(state.valvesOut, event.socket),
      };
    case 'valve-removed':
      return {
        ...state,
        valvesFitted: without(state.valvesFitted, event.socket),
        valvesOut: withItem(state.valvesOut, event.socket),
      };
    default:
      return assertNever(event);
  }
}

/** Clips: moving one ends rule 8's re-entry; taken off too early, it ends the proof that rested on it. */
function reduceClip(
  state: SafetyState,
  event: ClipFitted | ClipRemoved | { readonly kind: 'black-lead-clipped' },
  stamp: Stamp,
): SafetyState {
  const { energy } = state;
  const touched: SafetyState =
    energy.kind === 'draining' ? { ...state, energy: { ...energy, untouched: false } } : state;
  if (event.kind === 'black-lead-clipped') return { ...touched, blackLeadClipped: true };
  if (event.kind === 'clip-fitted') {
    const { ohms, watts } = event;
    return { ...touched, clips: { ...touched.clips, [event.store]: { stamp, ohms, watts } } };
  }
  const clips = Object.fromEntries(Object.entries(touched.clips).filter(([store]) => store !== event.store));
  const progress = energy.kind === 'dead' ? energy.stores[event.store] : undefined;
  const restsOnClip = progress !== undefined && progress.first !== null && progress.second === null;
  if (!restsOnClip || stamp.tick - (progress.first?.stamp.tick ?? 0) >= secondLookAfterMs) {
    return { ...touched, clips };
  }
  return {
    ...touched,
    clips,
    energy: { ...unknownDraining('clip off early', stamp), plugOut: stamp },
    deadVolts: {},
  };
}

function reduceStep(
  state: SafetyState,
  event: Extract<SafetyEvent, { readonly step: string; readonly kind: `step-${string}` }>,
  stamp: Stamp,
  facts: SafetyFacts,
): SafetyState {
  const before: StepStanding = state.steps[event.step] ?? { status: 'started', ticked: [] };
  const withStep = (standing: StepStanding): SafetyState => ({
    ...withAdjusterTurned(state, event.step, facts),
    steps: { ...state.steps, [event.step]: standing },
  });
  switch (event.kind) {
    case 'step-started':
      return before.status === 'done' || before.status === 'declared'
        ? state
        : withStep({ started: stamp, ...before, status: 'started' });
    case 'step-ticked': {
      const rest = before.ticked.filter((item) => item !== event.item);
      return withStep({ started: stamp, ...before, ticked: event.ticked ? [...rest, event.item] : rest });
    }
    case 'step-done':
      return reduceStepDone(state, event, facts);
    case 'step-reopened':
      return withStep({ status: 'reopened', ticked: [] });
    default:
      return assertNever(event);
  }
}

/** Another meter or other leads: what the one before was shown to do says nothing of them. */
function withoutMeterProofs(state: SafetyState, bench: Bench): SafetyState {
  const { energy, bench: before } = state;
  const isSame =
    before !== null &&
    JSON.stringify([before.meter, before.leads]) === JSON.stringify([bench.meter, bench.leads]);
  return isSame || energy.kind !== 'draining' ? state : { ...state, energy: { ...energy, meterProofs: [] } };
}

/** A step that adjusts turns its adjuster away from most negative: a valve fitted later finds it recorded so. */
function withAdjusterTurned(state: SafetyState, step: string, facts: SafetyFacts): SafetyState {
  const action = facts.steps.find((each) => each.id === step)?.action;
  return action?.kind === 'adjust'
    ? { ...state, adjustersMostNegative: without(state.adjustersMostNegative, action.control) }
    : state;
}

/** Somebody else assembled it: such steps count as declared, and what is inside is not known. */
function reduceDeclared(state: SafetyState, stamp: Stamp, facts: SafetyFacts): SafetyState {
  const declared = facts.steps
    .filter(({ id, action }) => {
      const isBuilding = action.kind === 'gather' || action.kind === 'assemble';
      return isBuilding && state.steps[id]?.status !== 'done';
    })
    .map(({ id }) => [id, { status: 'declared' as const, ticked: [] as readonly number[] }]);
  const steps = { ...state.steps, ...Object.fromEntries(declared) };
  if (state.energy.kind !== 'dead') return { ...state, steps, socketsUnknown: true };
  return {
    ...state,
    steps,
    socketsUnknown: true,
    everPluggedIn: true,
    energy: unknownDraining('assembled elsewhere', stamp),
    deadVolts: {},
  };
}

/** Out of band, or too far from the reading beside it: taken as it is, until one of them is read again. */
function reduceAccepted(state: SafetyState, reading: string, facts: SafetyFacts): SafetyState {
  const own = state.readings[reading];
  if (own === undefined) return state;
  const readings = { ...state.readings, [reading]: { ...own, settled: 'accepted' as const } };
  for (const { id, action } of apartSteps(reading, state, facts)) {
    for (const each of action.kind === 'compare' ? action.readings : []) {
      const standing = readings[each];
      if (standing === undefined) continue;
      readings[each] = { ...standing, apartAccepted: withItem(standing.apartAccepted ?? [], id) };
    }
  }
  return { ...state, readings };
}

function reduceChecked(state: SafetyState, store: string): SafetyState {
  const { energy } = state;
  const progress = energy.kind === 'draining' ? energy.stores[store] : undefined;
  if (energy.kind !== 'draining' || progress === undefined) return state;
  return {
    ...state,
    energy: { ...energy, stores: { ...energy.stores, [store]: { ...progress, needsChecks: false } } },
  };
}

function withItem(list: readonly string[], item: string): readonly string[] {
  return list.includes(item) ? list : [...list, item];
}

function without(list: readonly string[], item: string): readonly string[] {
  return list.filter((each) => each !== item);
}
