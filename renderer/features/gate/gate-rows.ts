import type { SafetyState } from '../../../shared-core/safety/energy-state.ts';
import type { SafetyFacts } from '../../../shared-core/safety/facts.ts';
import { isInBand } from '../../../shared-core/safety/lookup.ts';

/** One proof that the first plug-in asks for. */
export interface GateRow {
  readonly id: string;
  readonly title: string;
  readonly isMet: boolean;
  readonly note: string | null;
}

/** The cold gate as a list: bench, fuses, readings, insulation. */
export function gateRows(safety: SafetyState, facts: SafetyFacts): readonly GateRow[] {
  const bench: GateRow = {
    id: 'bench',
    title: 'Mains value and meter recorded',
    isMet: safety.bench !== null,
    note: null,
  };
  const fuses = facts.fuses
    .filter(({ mainsSide }) => mainsSide)
    .map(({ part }) => ({
      id: part,
      title: `Marking of ${part} read back`,
      isMet: safety.gate.fusesRead.includes(part),
      note: null,
    }));
  const readings = facts.readings
    .filter(({ proves }) => proves !== null)
    .map(({ id, title, proves }) => {
      const isUntested = proves === 'insulation' && safety.gate.insulationNotTested;
      const isMet = isUntested || isInBand(id, safety);
      return { id, title, isMet, note: isUntested ? 'NOT tested: printed in the report' : null };
    });
  return [bench, ...fuses, ...readings];
}
