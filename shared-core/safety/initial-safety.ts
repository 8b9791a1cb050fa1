import type { Draining, DrainingWhy, SafetyState, StartedFrom } from './energy-state.ts';
import { unfinishedLine, type JournalCut } from './events.ts';
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
    probeShown: false,
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
    valvesOut: [],
    socketsUnknown: !isLoose,
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

/** The same build with its energy state no longer proven; what the journal says of gates and readings holds. */
export function distrust(state: SafetyState, why: DrainingWhy): SafetyState {
  return {
    ...state,
    energy: unknownDraining(why, state.last),
    everPluggedIn: true,
    ...forgottenConfirmations,
  };
}

/**
 * The same build with part of its journal lost: what was lost may be a plug-in, a stop, a repair, or work on
 * the mains side.
 *
 * Gates, proofs and confirmations fall with it, and every reading is taken again; what blocks stays.
 */
export function distrustAll(state: SafetyState, why: DrainingWhy): SafetyState {
  const readings = Object.entries(state.readings).map(([id, standing]) => [
    id,
    { ...standing, counts: false },
  ]);
  return {
    ...distrust(state, why),
    readings: Object.fromEntries(readings) as SafetyState['readings'],
    gate: { insulationNotTested: false, fusesRead: [] },
    adjustersMostNegative: [],
    ...unknownSockets,
    instruments: [],
    enteredSinceWork: [],
    afterWork: { lookedOver: false, readings: state.afterWork?.readings ?? [], lampStage: 'needed' },
  };
}

/** What a cut journal comes to: a line that was never finished had not been said on the screen. */
export function afterCut(state: SafetyState, { suspect, why }: Omit<JournalCut, 'kind'>): SafetyState {
  if (!suspect) return state;
  return why === unfinishedLine ? distrust(state, 'journal broken') : distrustAll(state, 'journal broken');
}

/** Nothing recorded of the sockets holds: each is looked at and recorded again. */
export const unknownSockets = { valvesFitted: [], valvesOut: [], socketsUnknown: true } as const;

/** What has to be confirmed again after every break. */
export const forgottenConfirmations = {
  redLeadInVolts: false,
  probeShown: false,
  blackLeadClipped: false,
  mainsSwitchOff: false,
  acknowledged: {},
  deadVolts: {},
  fuseSidesProven: [],
} as const;
