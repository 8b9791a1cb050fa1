import { unknownDraining } from './initial-safety.ts';
import type { SafetyState } from './energy-state.ts';
import type { PluggedIn } from './events.ts';
import type { SafetyFacts } from './facts.ts';
import { isPassedOrAccepted, lampStageOf } from './lookup.ts';
import type { Stamp } from './stamp.ts';

/** The plug goes in: every confirmation that belonged to this entry is used up. */
export function reducePlugIn(
  state: SafetyState,
  event: PluggedIn,
  stamp: Stamp,
  facts: SafetyFacts,
): SafetyState {
  const isLampStage = event.condition === lampStageOf(facts);
  const step = facts.steps.find((each) => each.id === event.step);
  const ticked = step === undefined ? [] : (state.steps[step.id]?.ticked ?? []);
  const isLookedAt = step?.inspect.every((_, index) => ticked.includes(index)) === true;
  const status = isLookedAt ? ('done' as const) : ('started' as const);
  return {
    ...state,
    energy: { kind: 'live', since: stamp, condition: event.condition, mustPull: null },
    everPluggedIn: true,
    plugIns: { ...state.plugIns, [event.condition]: (state.plugIns[event.condition] ?? 0) + 1 },
    steps: step === undefined ? state.steps : { ...state.steps, [step.id]: { status, ticked } },
    enteredSinceWork: [...new Set([...state.enteredSinceWork, event.condition])],
    mainsSwitchOff: false,
    probeShown: false,
    deadVolts: {},
    fuseSidesProven: [],
    afterWork:
      state.afterWork !== null && isLampStage
        ? { ...state.afterWork, lampStage: 'entered' }
        : state.afterWork,
    wrong: isLampStage ? null : state.wrong,
  };
}

/** The plug is out and in sight: from `live` the drain starts; from an unknown time it may be proven. */
export function reducePlugOut(state: SafetyState, stamp: Stamp, facts: SafetyFacts): SafetyState {
  const { energy } = state;
  if (energy.kind === 'dead') return state;
  if (energy.kind === 'draining') {
    return energy.plugOut === null ? { ...state, energy: { ...energy, plugOut: stamp } } : state;
  }
  return {
    ...state,
    energy: {
      ...unknownDraining('plug pulled', stamp),
      from: energy.condition,
      plugOut: stamp,
      timeKnown: true,
      untouched: true,
      mustProve: energy.mustPull !== null,
    },
    acknowledged: {},
    redLeadInVolts: false,
    probeShown: false,
    mainsSwitchOff: false,
    afterWork: afterLampStage(state, energy.condition, energy.mustPull !== null, facts),
  };
}

/** The lamp stage is passed when nothing stopped it and its readings were taken again. */
function afterLampStage(
  state: SafetyState,
  condition: string,
  wasStopped: boolean,
  facts: SafetyFacts,
): SafetyState['afterWork'] {
  const { afterWork } = state;
  if (afterWork === null || afterWork.lampStage !== 'entered' || condition !== lampStageOf(facts)) {
    return afterWork;
  }
  const isRead = facts.readings
    .filter((each) => each.in === condition)
    .every((each) => isPassedOrAccepted(each.id, state));
  return wasStopped || !isRead ? { ...afterWork, lampStage: 'needed' } : null;
}

/** A supply was connected unknown to the app: nothing is proven any more. */
export function reduceFoundPluggedIn(state: SafetyState, stamp: Stamp): SafetyState {
  if (state.energy.kind === 'live') return state;
  return {
    ...state,
    energy: unknownDraining('found plugged in', stamp),
    everPluggedIn: true,
    acknowledged: {},
    redLeadInVolts: false,
    mainsSwitchOff: false,
    deadVolts: {},
    fuseSidesProven: [],
  };
}

/** *Something is wrong*: the plug first, and after it the lamp stage again. */
export function reduceSomethingWrong(state: SafetyState, stamp: Stamp, facts: SafetyFacts): SafetyState {
  const { energy } = state;
  return {
    ...backToLampStage(state, facts),
    energy:
      energy.kind === 'live'
        ? { ...energy, mustPull: energy.mustPull ?? { kind: 'something wrong' } }
        : energy.kind === 'draining'
          ? { ...energy, mustProve: true }
          : energy,
    wrong: { stamp, signs: null },
  };
}

/** Rule 10: look over, HT to chassis, then the lamp stage with its readings. */
export function backToLampStage(state: SafetyState, facts: SafetyFacts): SafetyState {
  return {
    ...state,
    afterWork: {
      lookedOver: false,
      readings: [...new Set([...(state.afterWork?.readings ?? []), ...facts.htToChassis])],
      lampStage: 'needed',
    },
    readings: forgetReadings(state.readings, new Set([...facts.htToChassis, ...lampReadings(facts)])),
  };
}

/** Readings of the lamp stage. */
export function lampReadings(facts: SafetyFacts): readonly string[] {
  const lampStage = lampStageOf(facts);
  return facts.readings.filter((each) => each.in === lampStage).map((each) => each.id);
}

/** Readings that have to be taken again; what blocks stays blocking. */
export function forgetReadings(
  readings: SafetyState['readings'],
  ids: ReadonlySet<string>,
): SafetyState['readings'] {
  return Object.fromEntries(
    Object.entries(readings).map(([id, standing]) => [
      id,
      ids.has(id) ? { ...standing, counts: false } : standing,
    ]),
  );
}
