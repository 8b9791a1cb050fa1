import type { KitBuild } from './by-hand.ts';
import type { HandEdits } from './hand-netlist.ts';

/** Conditions with the output valves in; the bias is set in the last three. */
const valved = ['standby', 'quiet', 'running', 'signal', 'listening'];

/** The netlist of Curlew that was written by hand, in one condition. */
export function curlewEdits(build: KitBuild, condition: string): Omit<HandEdits, 'commands'> {
  const is120 = build.mains === '120 V 60 Hz';
  const isCold = condition.startsWith('cold');
  const left = [...(valved.includes(condition) ? [] : ['Xv']), ...(isCold ? ['Vj1', 'Rload'] : [])];
  // Off at S1 or S2, a primary is not on the mains.
  if (condition === 'cold') left.push('Rp1 ', 'Rp2 ');
  if (condition === 'cold-standby') left.push('Rp2 ');
  return {
    file: 'curlew-by-hand.cir',
    parameters: {
      vmains: is120 ? 'vmains=120 fmains=60 rp1=3.8 rp2=1.5' : 'vmains=230 fmains=50 rp1=14 rp2=5.5',
      position: `position=${['running', 'signal', 'listening'].includes(condition) ? 0.8 : 0}`,
    },
    ...(build.output === 'ultra-linear' ? { variant: ['screens', 'ultra-linear'] as const } : {}),
    ...(left.length > 0 ? { without: new RegExp(`^(?:${left.join('|')})`) } : {}),
  };
}

/**
 * What is left of the supplies at direct current beside their sources: copper, and the resistors of the heaters.
 *
 * V6's cathode is on its heater: both ends of that winding stand at the high tension.
 */
export const curlewCopper: readonly string[] = ['Rrect v6_2 v6_8 0.08'];
