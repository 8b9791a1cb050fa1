import type { KitBuild } from './by-hand.ts';
import type { HandEdits } from './hand-netlist.ts';

/** The netlist of Wren that was written by hand, in one condition. */
export function wrenEdits(build: KitBuild, condition: string): Omit<HandEdits, 'commands'> {
  const is120 = build.mains === '120 V 60 Hz';
  const isSignal = condition === 'signal';
  const hasLoad = isSignal || condition === 'listening';
  const hasValves = hasLoad || condition === 'running';
  const isCold = condition.startsWith('cold');
  // Nothing is connected to a cold amplifier, nor to one on the lamp.
  const isOpen = isCold || condition === 'lamp-no-valves';
  const left = [...(hasValves ? [] : ['Xv1', 'Rv1']), ...(isOpen ? ['Vj1'] : [])];
  return {
    file: 'wren-by-hand.cir',
    parameters: {
      vmains: is120 ? 'vmains=120 fmains=60 rprimary=25.9' : 'vmains=230 fmains=50 rprimary=95',
      volume: `volume=${isSignal ? 1 : 0}`,
      rload: `rload=${hasLoad ? 47e3 : 1e15}`,
    },
    ...(left.length > 0 ? { without: new RegExp(`^(?:${left.join('|')})`) } : {}),
  };
}
