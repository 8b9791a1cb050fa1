import type { ChosenKit } from '../chosen-kit.ts';
import type { Finding } from '../draft.ts';
import type { Step } from '../kit.ts';
import { isLive } from './check.ts';
import type { KitCheck } from './check.ts';
import { walkSteps } from './walk.ts';

/** Hands inside while something is switched on, and a condition entered or drained while another is on. */
export const checkInsideWhileLive: KitCheck = {
  needs: ['conditions', 'readings', 'steps'],
  run: ({ chosen, steps }) =>
    walkSteps(chosen, steps).flatMap(({ step, path, live, next }): Finding[] => {
      if (!live) return [];
      const hint = 'Add a step with "switch-off: true" before it.';
      if (step.reach === 'inside' || solders(chosen, step)) {
        const message = `DANGER: "${step.id}" puts hands inside while "${live.id}" is on`;
        return [{ code: 'kit/danger-inside-live', path, message, hint }];
      }
      if (next || step.action.kind === 'drain') {
        const what = next ? `"${next.id}" is switched on` : 'stores are drained';
        const message = `DANGER: ${what} while "${live.id}" is still on`;
        return [{ code: 'kit/danger-still-live', path: `${path}.${step.action.kind}`, message, hint }];
      }
      return [];
    }),
};

/** Soldering that claims to stay outside: the reach is what the drain before it depends on. */
export const checkReach: KitCheck = {
  needs: ['parts', 'steps'],
  run: ({ chosen, steps }) =>
    steps.flatMap(({ step, path }): Finding[] => {
      if (step.reach === 'inside' || !solders(chosen, step)) return [];
      const message = `DANGER: "${step.id}" solders inside, but its reach is "${step.reach}"`;
      const hint = 'Remove "reach:", so that the stores are proven empty before hands go in.';
      return [{ code: 'kit/danger-reach', path: `${path}.reach`, message, hint }];
    }),
};

/** Steps that switch on a condition which is not live at all. */
export const checkSwitchOn: KitCheck = {
  needs: ['conditions', 'steps'],
  run: ({ chosen, steps }) =>
    steps.flatMap(({ step: { action }, path }): Finding[] => {
      if (action.kind !== 'switch-on') return [];
      const condition = chosen.conditions.find(({ id }) => id === action.condition);
      if (!condition || isLive(condition)) return [];
      const message = `"${condition.id}" is unplugged: there is nothing to switch on`;
      const hint = 'Read its readings without this step.';
      return [{ code: 'kit/step-action', path: `${path}.switch-on`, message, hint }];
    }),
};

function solders(chosen: ChosenKit, step: Step): boolean {
  if (step.action.kind === 'gather') return false;
  const isSoldered = chosen.parts.some((part) => 'between' in part && step.parts.includes(part.id));
  return step.leads.length > 0 || isSoldered;
}
