import type { Finding } from '../draft.ts';
import type { KitCheck } from './check.ts';
import { walkSteps } from './walk.ts';

/** Hands inside while something is switched on, and a condition entered or drained while another is on. */
export const checkInsideWhileLive: KitCheck = {
  needs: ['conditions', 'readings', 'steps'],
  run: ({ chosen, steps }) =>
    walkSteps(chosen, steps).flatMap(({ step, path, live, next }): Finding[] => {
      if (!live) return [];
      const hint = 'Add a step with "switch-off: true" before it.';
      if (step.reach === 'inside') {
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
