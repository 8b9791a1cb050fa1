import type { Draining, DrainingWhy, SafetyState, StartedFrom } from './energy-state.ts';
import type { Stamp } from './stamp.ts';

/** The state of a build before its first event: only loose parts start `dead` (rule 8). */
export function initialSafety(startedFrom: StartedFrom): SafetyState {
  const isLoose = startedFrom === 'loose parts';
  return {
    startedFrom,
    energy: isLoose
      ? { kind: 'dead', since: null, proof: 'never plugged in', stores: {} }
      : unknownDraining(startedFrom === 'assembled' ? 'assembled elsewhere' : 'old record', null),
    last: null,
    lastByPerson: null,
    everPluggedIn: !isLoose,
    plugIns: {},
    enteredSinceWork: [],
    bench: null,
    redLeadInVolts: false,
    blackLeadClipped: false,
    probeStyle: null,
    mainsSwitchOff: false,
    clips: {},
    acknowledged: {},
    readings: {},
    steps: {},
    gate: { insulationNotTested: false, fusesRead: [] },
    adjustersMostNegative: [],
    valvesFitted: [],
    afterWork: null,
    wrong: null,
    fuseSidesProven: [],
    fusesReplaced: [],
    deadVolts: {},
    findings: [],
  };
}

/** `draining` with nothing known: neither whether the plug is out, nor since when. */
export function unknownDraining(why: DrainingWhy, since: Stamp | null): Draining {
  return {
    kind: 'draining',
    since,
    why,
    from: null,
    plugOut: null,
    timeKnown: false,
    untouched: false,
    mustProve: true,
    meterProofs: [],
    stores: {},
  };
}

/**
 * The same build with its energy state no longer proven: what a broken or cut journal comes to.
 *
 * Gates, proofs and confirmations fall with it; what blocks stays.
 */
export function distrust(state: SafetyState, why: DrainingWhy): SafetyState {
  return {
    ...state,
    energy: unknownDraining(why, state.last),
    everPluggedIn: true,
    ...forgottenConfirmations,
  };
}

/** What has to be confirmed again after every break. */
export const forgottenConfirmations = {
  redLeadInVolts: false,
  blackLeadClipped: false,
  mainsSwitchOff: false,
  acknowledged: {},
  deadVolts: {},
  fuseSidesProven: [],
} as const;
