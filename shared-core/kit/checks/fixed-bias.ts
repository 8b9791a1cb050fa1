import type { ChosenKit } from '../chosen-kit.ts';
import type { Finding } from '../draft.ts';
import { biasNetwork, biasShares, findFixedBiasSockets } from '../fixed-bias.ts';
import type { AdjusterFault, FixedBiasSocket } from '../fixed-bias.ts';
import type { Condition, Step } from '../kit.ts';
import { pathOfItem } from '../source.ts';
import { fittedValves, isPluggedIn, netAt } from './check.ts';
import type { CheckContext, KitCheck } from './check.ts';
import { walkSteps } from './walk.ts';

/** Less negative than this part of the supply beyond the sound adjuster counts as less negative at all. */
const LEAST_LOSS = 0.001;

/**
 * Fixed-bias valves that are plugged in before their bias was read (safety rule 4): at the own grid pin, on
 * the mains, with the valve out, and since the last work inside.
 */
export const checkBiasFirst: KitCheck = {
  needs: ['parts', 'leads', 'nets', 'conditions', 'readings', 'steps'],
  run: (context) => {
    const { chosen, steps } = context;
    const sockets = findFixedBiasSockets(chosen);
    const proven = new Set<string>();
    const reported = new Set<string>();
    return walkSteps(chosen, steps).flatMap(({ step, path, live, next }): Finding[] => {
      if (isWorkInside(chosen, step)) proven.clear();
      if (live) for (const socket of readIn(chosen, step, live, sockets)) proven.add(socket);
      if (!next || !isPluggedIn(next)) return [];
      const fitted = fittedValves(chosen, next);
      return sockets.flatMap(({ socket, grids }): Finding[] => {
        if (!fitted.includes(socket) || proven.has(socket) || reported.has(socket)) return [];
        reported.add(socket);
        const message = `DANGER: "${next.id}" has ${socket} fitted, whose bias was not read at ${grids.join(', ')} before`;
        const hint = `Read dc volts at ${grids[0] ?? ''} in a condition without ${socket}, after the last work inside.`;
        return [{ code: 'kit/danger-bias-first', path: `${path}.switch-on`, message, hint }];
      });
    });
  },
};

/** The sockets whose bias a step reads with the valve out: every grid pin of its own. */
function readIn(
  chosen: ChosenKit,
  { action }: Step,
  live: Condition,
  sockets: readonly FixedBiasSocket[],
): readonly string[] {
  if (action.kind !== 'read' || live.supply !== 'mains') return [];
  const places = chosen.readings
    .filter(
      ({ id, measure, in: where }) =>
        action.readings.includes(id) && measure === 'dc volts' && where === live.id,
    )
    .map(({ at }) => at);
  const fitted = fittedValves(chosen, live);
  return sockets
    .filter(({ socket, grids }) => !fitted.includes(socket) && grids.every((grid) => places.includes(grid)))
    .map(({ socket }) => socket);
}

/** Soldering, or parts other than valves put in. */
function isWorkInside(chosen: ChosenKit, step: Step): boolean {
  if (step.action.kind === 'gather') return false;
  const parts = chosen.parts.filter(({ id }) => step.parts.includes(id));
  return step.leads.length > 0 || parts.some(({ kind }) => kind !== 'valve');
}

/** An adjuster that takes bias away when its wiper or its track opens: the valve then draws all it can. */
export const checkBiasAdjusters: KitCheck = {
  needs: ['parts', 'leads', 'nets'],
  run: ({ chosen, draft }) => {
    const network = biasNetwork(chosen);
    const sockets = findFixedBiasSockets(chosen);
    return network.controls.flatMap((control): Finding[] => {
      const own = sockets.filter(({ adjusters }) => adjusters.some(({ part }) => part === control.id));
      const grids = own.flatMap((socket) => socket.grids);
      const open = (['wiper', 'ccw', 'cw'] as const).find((fault) =>
        grids.some((grid) => losesBias(control.id, fault, netAt(chosen, grid))),
      );
      if (open === undefined) return [];
      const what = open === 'wiper' ? 'wiper' : `track at ${control.id}.${open}`;
      const message = `DANGER: with its ${what} open, ${control.id} makes the grid of ${own[0]?.socket ?? ''} less negative`;
      const hint =
        'Put it as a variable resistor, wiper joined to one end, between the grid feed and the chassis.';
      const path = pathOfItem(draft.source, 'parts', control);
      return [{ code: 'kit/danger-bias-adjuster', path, message, hint, atKey: true }];
    });

    function losesBias(part: string, open: AdjusterFault, net: string): boolean {
      return [0, 0.25, 0.5, 0.75, 1].some((position) => {
        const sound = biasShares(network, { [part]: position }, null)[net] ?? 0;
        const broken = biasShares(network, { [part]: position }, { part, open })[net] ?? 0;
        return broken > sound + LEAST_LOSS;
      });
    }
  },
};

/** Bias readings, and the first plug-in with the valve, with an adjuster that is not at most negative. */
export const checkBiasPositions: KitCheck = {
  needs: ['parts', 'leads', 'nets', 'conditions', 'readings', 'steps'],
  run: (context) => {
    const { chosen } = context;
    const walked = walkSteps(chosen, context.steps);
    const findings = findFixedBiasSockets(chosen).flatMap(({ socket, adjusters, grids }) => {
      const first = walked.find(
        ({ next }) => next && isPluggedIn(next) && fittedValves(chosen, next).includes(socket),
      )?.next;
      const biasIds = chosen.readings
        .filter(({ at, measure }) => grids.includes(at) && measure === 'dc volts')
        .map((reading) => reading.in);
      const bias = chosen.conditions.filter(
        (condition) =>
          biasIds.includes(condition.id) &&
          isPluggedIn(condition) &&
          !fittedValves(chosen, condition).includes(socket),
      );
      return [...bias, ...(first ? [first] : [])].flatMap((condition) =>
        adjusters.flatMap(({ part, mostNegative }) =>
          (condition.controls[part] ?? 0) === mostNegative
            ? []
            : [position(context, condition, part, mostNegative)],
        ),
      );
    });
    return [...new Map(findings.map((finding) => [finding.path, finding])).values()];
  },
};

function position({ draft }: CheckContext, condition: Condition, part: string, mostNegative: 0 | 1): Finding {
  const path = `${pathOfItem(draft.source, 'conditions', condition)}.controls.${part}`;
  const message = `DANGER: in "${condition.id}" the bias adjuster ${part} is not at most negative`;
  const hint = `Write ${part}: ${mostNegative * 100} % there, and set it in a later condition.`;
  return { code: 'kit/danger-bias-position', path, message, hint };
}
