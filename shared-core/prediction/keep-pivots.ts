import type { Solver } from '../circuit/solver.ts';
import type { SectionVolts } from '../valves/section-law.ts';

/** Notes the electrode voltages of every amplifying valve section of a solved circuit, once. */
export function keepPivots(pivots: Map<string, SectionVolts>, solver: Solver): void {
  if (pivots.size > 0) return;
  for (const { id, device } of solver.compiled.elements) {
    if (device.name !== 'triode' && device.name !== 'pentode') continue;
    const { point } = solver.evaluateElement(id);
    const at = (pin: string): number => point[device.pins.indexOf(pin)] ?? 0;
    const cathode = at('cathode');
    pivots.set(id, {
      anodeVolts: at('anode') - cathode,
      gridVolts: at('grid') - cathode,
      ...(device.pins.includes('screen') ? { screenVolts: at('screen') - cathode } : {}),
    });
  }
}
