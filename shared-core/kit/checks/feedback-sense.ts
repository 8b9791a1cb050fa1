import { cathodePins } from '../../valves/cathode-pins.ts';
import { findValveType } from '../../valves/index.ts';
import type { ChosenKit } from '../chosen-kit.ts';
import { groundNets, reachableNets } from '../conduction.ts';
import type { ConductionEdge } from '../conduction.ts';
import type { Finding } from '../draft.ts';
import { computeNets } from '../nets.ts';
import { netAt } from './check.ts';
import type { KitCheck } from './check.ts';

/**
 * Overall feedback that is closed before its sense is known: the wrong way round it oscillates at full power.
 *
 * The loop is looked for in what is soldered after each step: from the output transformer's secondary through
 * resistors, controls and capacitors to a grid or cathode.
 */
export const checkFeedbackSense: KitCheck = {
  needs: ['parts', 'leads', 'nets', 'steps'],
  run: ({ chosen, steps }) => {
    if (!isLoopClosed(chosen)) return [];
    const fitted = new Set<string>();
    for (const { step, path } of steps) {
      if (step.feedbackSense) return [];
      if (step.action.kind === 'gather') continue;
      for (const id of [...step.parts, ...step.leads]) fitted.add(id);
      if (step.parts.length + step.leads.length === 0 || !isLoopClosed(soFar(chosen, fitted))) continue;
      const message = `DANGER: "${step.id}" closes the overall feedback, but no step before it finds its sense`;
      const hint = 'Add a step with "feedback-sense: true" before the loop is closed.';
      const finding: Finding = { code: 'kit/danger-feedback-sense', path, message, hint };
      return [finding];
    }
    return [];
  },
};

/** The kit as soldered so far. */
function soFar(chosen: ChosenKit, fitted: ReadonlySet<string>): ChosenKit {
  const parts = chosen.parts.filter(({ id }) => fitted.has(id));
  const leads = chosen.leads.filter(({ id }) => fitted.has(id));
  return { ...chosen, parts, leads, ...computeNets({ parts, leads, nets: chosen.nets }) };
}

function isLoopClosed(chosen: ChosenKit): boolean {
  const ground = groundNets(chosen);
  const secondaries = chosen.parts.flatMap((part) => {
    if (part.kind !== 'output-transformer') return [];
    return ['a', 'b'].map((end) => netAt(chosen, `${part.id}.secondary.${end}`));
  });
  const from = secondaries.filter((net) => !ground.has(net));
  if (from.length === 0) return false;
  const edges = chosen.parts.flatMap((part): ConductionEdge[] => {
    if (part.kind === 'resistor' || part.kind === 'capacitor') {
      const [one, other] = part.between;
      return [{ one: netAt(chosen, one), other: netAt(chosen, other), part, kind: 'solid' }];
    }
    if (part.kind !== 'potentiometer') return [];
    return ['ccw', 'cw'].map((end): ConductionEdge => {
      const [one, other] = [netAt(chosen, `${part.id}.wiper`), netAt(chosen, `${part.id}.${end}`)];
      return { one, other, part, kind: 'contact' };
    });
  });
  const reached = reachableNets(edges, from, ground);
  return chosen.parts.some((part) => {
    if (part.kind !== 'valve') return false;
    const type = findValveType(part.type, chosen.valves);
    return (type?.sections ?? []).some((section) =>
      [section.pins['grid'], ...(type ? cathodePins(type, section) : [])].some((pin) => {
        if (pin === undefined) return false;
        const net = netAt(chosen, `${part.id}.${pin}`);
        return reached.has(net) && !ground.has(net);
      }),
    );
  });
}
