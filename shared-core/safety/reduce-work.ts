import type { GateProof, Place } from '../kit/kit.ts';
import type { SafetyState } from './energy-state.ts';
import type { KitChanged, Repaired, StepDone, WorkInside } from './events.ts';
import type { SafetyFacts, StepFacts } from './facts.ts';
import { distrust } from './initial-safety.ts';
import { isLiveReading } from './lookup.ts';
import { isMainsPlace } from './mains-places.ts';
import { forgetReadings, lampReadings } from './reduce-plug.ts';
import type { Stamp } from './stamp.ts';

interface Work {
  /** Nets worked on; null when it cannot be said which: then all of them. */
  readonly nets: readonly string[] | null;
  readonly mainsSide: boolean;
}

/** Rule 11: what any work inside asks for afterwards. */
export function afterWorkInside(state: SafetyState, work: Work, facts: SafetyFacts): SafetyState {
  const isInsulation = (id: string): boolean =>
    facts.readings.find((each) => each.id === id)?.proves === 'insulation';
  const cold = [...coldReadings(work.nets, facts), ...facts.htToChassis].filter((id) => !isInsulation(id));
  const gate = work.mainsSide
    ? facts.readings.filter((each) => each.proves !== null).map((each) => each.id)
    : [];
  const bias = facts.fixedBias.flatMap((each) => each.readings);
  const live = facts.readings
    .filter((each) => isLiveReading(each, facts) && isOnNets(each.at, each.against, work.nets, facts))
    .map((each) => each.id);
  return {
    ...state,
    readings: forgetReadings(
      state.readings,
      new Set([...cold, ...gate, ...bias, ...live, ...lampReadings(facts)]),
    ),
    gate: work.mainsSide ? { insulationNotTested: false, fusesRead: [] } : state.gate,
    adjustersMostNegative: [],
    enteredSinceWork: [],
    afterWork: {
      lookedOver: false,
      readings: [...new Set([...(state.afterWork?.readings ?? []), ...cold])],
      lampStage: 'needed',
    },
  };
}

/** Work recorded by the builder: its places say which nets. */
export function reduceWorkInside(state: SafetyState, event: WorkInside, facts: SafetyFacts): SafetyState {
  const touched = workAt(event.places, facts);
  return afterWorkInside(state, { ...touched, mainsSide: event.mainsSide || touched.mainsSide }, facts);
}

/** Work at places: none, or one that the kit does not know, may have been anywhere. */
function workAt(places: readonly Place[], facts: SafetyFacts): Work {
  const nets = places.map((place) => facts.netOf[place]);
  const isKnown = nets.length > 0 && nets.every((net) => net !== undefined);
  const known = nets.filter((net): net is string => net !== undefined);
  return { nets: isKnown ? known : null, mainsSide: places.some((place) => isMainsPlace(place, facts)) };
}

/**
 * A repair is work inside on the places touched, and on the nets of the readings that it is meant to mend.
 *
 * Older journals name no places; there the nets of the readings have to do.
 */
export function reduceRepaired(state: SafetyState, event: Repaired, facts: SafetyFacts): SafetyState {
  const readings = facts.readings.filter((each) => event.readings.includes(each.id));
  const nets = readings.flatMap(({ at, against }) =>
    [facts.netOf[at], facts.netOf[against]].filter(
      (net): net is string => net !== undefined && net !== 'gnd',
    ),
  );
  const touched = event.places === undefined ? { nets: [], mainsSide: false } : workAt(event.places, facts);
  const isMainsReading = readings.some((each) => each.mainsSide || isMainsProof(each.proves));
  const worked = afterWorkInside(
    state,
    {
      nets: nets.length > 0 && touched.nets !== null ? [...nets, ...touched.nets] : null,
      mainsSide: isMainsReading || touched.mainsSide,
    },
    facts,
  );
  const repaired = Object.entries(worked.readings).map(([id, standing]) => [
    id,
    event.readings.includes(id) && standing.settled === 'open'
      ? { ...standing, settled: 'repaired' as const, counts: false }
      : standing,
  ]);
  return { ...worked, readings: Object.fromEntries(repaired), fusesReplaced: [] };
}

/**
 * A step is done. Wiring inside an amplifier that has been plugged in is work inside like any other;
 * before that, it only asks for the cold readings on its nets again.
 */
export function reduceStepDone(state: SafetyState, event: StepDone, facts: SafetyFacts): SafetyState {
  const done: SafetyState = {
    ...state,
    steps: {
      ...state.steps,
      [event.step]: { ...(state.steps[event.step] ?? { ticked: [] }), status: 'done' },
    },
  };
  const step = facts.steps.find((each) => each.id === event.step);
  if (step === undefined || !isWiring(step)) return done;
  const worked = afterWorkInside(done, { nets: step.nets, mainsSide: step.mainsSide }, facts);
  return state.everPluggedIn ? worked : { ...worked, afterWork: state.afterWork };
}

/** A step that touches a net: screwing on a cover or a knob leaves the circuit as it was. */
function isWiring(step: StepFacts): boolean {
  const touchesNets = step.nets.length > 0 || step.mainsSide;
  return touchesNets && step.reach === 'inside' && step.action.kind === 'assemble' && !step.onlyValves;
}

/**
 * A revision reopens steps and takes readings back; it never makes anything more permissive.
 *
 * Other capacitors may be stores now, and nobody looked at them: once plugged in, the proof is made anew.
 */
export function reduceKitChanged(state: SafetyState, event: KitChanged, stamp: Stamp): SafetyState {
  const reopened = event.reopenedSteps.map((id) => [
    id,
    { status: 'reopened' as const, ticked: [] as readonly number[] },
  ]);
  const changed: SafetyState = {
    ...state,
    steps: { ...state.steps, ...Object.fromEntries(reopened) },
    readings: forgetReadings(state.readings, new Set(event.changedReadings)),
  };
  return state.everPluggedIn ? distrust({ ...changed, last: stamp }, 'kit changed') : changed;
}

function isMainsProof(proves: GateProof | null): boolean {
  return proves !== null && proves !== 'store-clear' && proves !== 'windings-apart';
}

function coldReadings(nets: readonly string[] | null, facts: SafetyFacts): readonly string[] {
  if (nets === null) {
    return facts.readings.filter((each) => !isLiveReading(each, facts)).map((each) => each.id);
  }
  return nets.flatMap((net) => facts.coldReadingsOf[net] ?? []);
}

function isOnNets(at: string, against: string, nets: readonly string[] | null, facts: SafetyFacts): boolean {
  if (nets === null) return true;
  const own = [facts.netOf[at] ?? at, facts.netOf[against] ?? against].filter((net) => net !== 'gnd');
  return own.some((net) => nets.includes(net));
}
