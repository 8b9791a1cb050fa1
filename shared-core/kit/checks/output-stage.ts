import { findValveType } from '../../valves/index.ts';
import type { ChosenKit } from '../chosen-kit.ts';
import { conductionEdges, conductsIn, groundNets, reachableNets } from '../conduction.ts';
import type { Finding } from '../draft.ts';
import type { Condition, OutputTransformerPart } from '../kit.ts';
import { pathOfItem } from '../source.ts';
import { fittedValves, isLive, isPluggedIn, netAt } from './check.ts';
import type { KitCheck } from './check.ts';
import { walkSteps } from './walk.ts';

/** A resistor across the secondary counts as a load up to this multiple of the rated load (common practice, no source). */
const LOAD_RATIO = 10;
/** An anode stopper is at most this large, in ohms (Ω) (common practice, no source). */
const STOPPER_OHMS = 1000;

/** Output valves fitted while nothing loads their transformer: its voltage can puncture the winding. */
export const checkOutputLoad: KitCheck = {
  needs: ['parts', 'leads', 'nets', 'conditions'],
  run: ({ chosen, draft }) =>
    chosen.conditions.filter(isPluggedIn).flatMap((condition) =>
      chosen.parts.flatMap((part): Finding[] => {
        if (part.kind !== 'output-transformer' || hasLoad(chosen, condition, part)) return [];
        const valve = fittedValves(chosen, condition).find((id) => drives(chosen, id, part));
        if (valve === undefined) return [];
        const path = pathOfItem(draft.source, 'conditions', condition);
        const message = `DANGER: in "${condition.id}" the output valve ${valve} is fitted, but nothing loads ${part.id}`;
        const hint = 'Add "loads:" with a resistor on the output jack.';
        return [{ code: 'kit/danger-no-load', path, message, hint, atKey: true }];
      }),
    ),
};

function hasLoad(chosen: ChosenKit, condition: Condition, transformer: OutputTransformerPart): boolean {
  const secondary = ['a', 'b'].map((end) => netAt(chosen, `${transformer.id}.secondary.${end}`));
  const isAcross = (nets: readonly string[]) => secondary.every((net) => nets.includes(net));
  return chosen.parts.some((part) => {
    if (part.kind === 'jack' && Object.hasOwn(condition.loads, part.id)) {
      return isAcross(part.terminals.map((terminal) => netAt(chosen, `${part.id}.${terminal}`)));
    }
    const isLow = part.kind === 'resistor' && part.ohms <= LOAD_RATIO * transformer.secondaryOhms;
    return isLow && isAcross(part.between.map((end) => netAt(chosen, end)));
  });
}

/** Whether a valve's anode sits on the transformer's primary, straight or behind an anode stopper. */
function drives(chosen: ChosenKit, valve: string, transformer: OutputTransformerPart): boolean {
  const anodes = electrodeNets(chosen, valve, 'anode');
  const ends = transformer.pushPull ? ['a', 'b'] : ['b'];
  const primary = ends.map((end) => netAt(chosen, `${transformer.id}.primary.${end}`));
  if (anodes.some((net) => primary.includes(net))) return true;
  return chosen.parts.some((part) => {
    if (part.kind !== 'resistor' || part.ohms > STOPPER_OHMS) return false;
    const nets = part.between.map((end) => netAt(chosen, end));
    return nets.some((net) => primary.includes(net)) && anodes.some((net) => nets.includes(net));
  });
}

function electrodeNets(chosen: ChosenKit, id: string, electrode: string): readonly string[] {
  const part = chosen.parts.find((other) => other.id === id);
  if (part?.kind !== 'valve') return [];
  const sections = findValveType(part.type, chosen.valves)?.sections ?? [];
  return sections.flatMap(({ pins }) => {
    const pin = pins[electrode];
    return pin === undefined ? [] : [netAt(chosen, `${id}.${pin}`)];
  });
}

/** A screen that is fed while its anode is open takes the whole current and melts. */
export const checkOpenAnodes: KitCheck = {
  needs: ['parts', 'leads', 'nets', 'conditions'],
  run: ({ chosen, draft }) =>
    chosen.conditions.filter(isPluggedIn).flatMap((condition) => {
      const fed = fedNets(chosen, condition);
      return fittedValves(chosen, condition).flatMap((id): Finding[] => {
        const isFed = (electrode: string) => electrodeNets(chosen, id, electrode).some((net) => fed.has(net));
        if (!isFed('screen') || isFed('anode')) return [];
        const part = chosen.parts.find((other) => other.id === id);
        const path = part ? pathOfItem(draft.source, 'parts', part) : 'parts';
        const message = `DANGER: the anode of ${id} has no supply in "${condition.id}", but its screen has`;
        const hint = 'Connect the anode, or leave the valve out of this condition.';
        return [{ code: 'kit/danger-open-anode', path, message, hint, atKey: true }];
      });
    }),
};

/** The nets that direct current reaches from the supply's windings, short of ground. */
function fedNets(chosen: ChosenKit, condition: Condition): ReadonlySet<string> {
  const ground = groundNets(chosen);
  const windings = chosen.parts.flatMap((part) => {
    if (part.kind !== 'mains-transformer') return [];
    return part.windings.flatMap(({ name }) => [`${part.id}.${name}.a`, `${part.id}.${name}.b`]);
  });
  const edges = conductionEdges(chosen).filter(
    (edge) => edge.kind !== 'breakable' || conductsIn(edge, condition, chosen),
  );
  const from = windings.map((place) => netAt(chosen, place)).filter((net) => !ground.has(net));
  return reachableNets(edges, from, ground);
}

/** A loudspeaker in the first condition with all valves, and valves on the lamp limiter. */
export const checkFirstPower: KitCheck = {
  needs: ['parts', 'conditions', 'steps'],
  run: ({ chosen, draft, steps }) => {
    const count = chosen.parts.filter(({ kind }) => kind === 'valve').length;
    const hasAll = (condition: Condition) => count > 0 && fittedValves(chosen, condition).length === count;
    const first = walkSteps(chosen, steps).find(({ next }) => next && hasAll(next))?.next;
    const findings: Finding[] = [];
    const [speaker] = first?.loudspeakers ?? [];
    if (first && speaker !== undefined) {
      const path = `${pathOfItem(draft.source, 'conditions', first)}.loads.${speaker}`;
      const message = `DANGER: "${first.id}" is the first with all valves, and its load is a loudspeaker`;
      const hint =
        'Use a resistor until the readings are good: a fault would reach the loudspeaker and the ears.';
      findings.push({ code: 'kit/danger-loudspeaker-first', path, message, hint });
    }
    for (const condition of chosen.conditions.filter(isLive)) {
      if (condition.supply !== 'lamp' || fittedValves(chosen, condition).length === 0) continue;
      const path = `${pathOfItem(draft.source, 'conditions', condition)}.fitted`;
      const message = `DANGER: "${condition.id}" has valves fitted on the lamp limiter, where no voltage can be judged`;
      findings.push({
        code: 'kit/danger-valves-on-lamp',
        path,
        message,
        hint: 'Use "fitted: []" on the lamp.',
      });
    }
    return findings;
  },
};
