import { fitValves } from '../../shared-core/faults/fit-valves.ts';
import type { FitReport } from '../../shared-core/faults/fit-report.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import { asInKit, nominalBench } from '../../shared-core/prediction/nominal-bench.ts';
import { findValveType, valveTypes } from '../../shared-core/valves/index.ts';
import { heronFor6n6p, heronForE182cc, kits } from '../helpers/fit-kits.ts';
import type { StudyReport } from './main.ts';

/** One type in one socket, solved where its pins answer to the wiring. */
interface FitRow {
  readonly kit: string;
  readonly socket: string;
  readonly type: string;
  readonly verdict: FitReport['verdict'];
  /** Codes of the reasons, each once. */
  readonly reasons: readonly string[];
  readonly damage: number;
  readonly outside: number;
  readonly lost: number;
}

/**
 * Every catalogue type in every socket of the three kits, with operating points, ratings, windings and
 * readings (nominal) wherever the pins allow.
 *
 * Promised: the kit's own type fits as is, another base is refused as such, and the pair that must not be
 * exchanged is refused both ways.
 *
 * @param size Share of the sockets, from the first on.
 */
export function runFitStudy(size: number): Promise<StudyReport> {
  const sockets = Object.values(kits).flatMap((kit) =>
    kit.parts.flatMap((part) => (part.kind === 'valve' ? [{ kit, part }] : [])),
  );
  const share = sockets.slice(0, Math.max(1, Math.round(sockets.length * size)));
  const rows = share.flatMap(({ kit, part }) => valveTypes.map(({ name }) => rowOf(kit, part.id, name)));
  const pair = [rowOf(heronFor6n6p, 'V1', 'E182CC'), rowOf(heronForE182cc, 'V1', '6N6P')];
  const own = rows.filter(({ kit, socket, type }) => {
    const part = share.find((each) => each.kit.id === kit && each.part.id === socket)?.part;
    return part !== undefined && findValveType(part.type)?.name === type;
  });
  const isKept =
    own.every(({ verdict }) => verdict === 'fits') &&
    pair.every(({ verdict, reasons }) => verdict === 'no' && reasons.includes('electrode'));
  const count = (verdict: FitRow['verdict']): number => rows.filter((row) => row.verdict === verdict).length;
  return Promise.resolve({
    lines: [
      `Valve fit: ${valveTypes.length} types in ${share.length} sockets, ${rows.length} rows: ` +
        `${count('fits')} fit as is, ${count('changed')} with changed readings, ${count('no')} do not fit.`,
      ...rows.filter(({ reasons }) => !reasons.includes('base')).map(lineOf),
      'The pair that must not be exchanged:',
      ...pair.map(lineOf),
      isKept ? 'Kept.' : 'NOT KEPT.',
    ],
    data: { rows, pair },
    isKept,
  });
}

function rowOf(kit: ChosenKit, socket: string, type: string): FitRow {
  const answer = fitValves({
    ...{ chosen: kit, bench: nominalBench(kit), fitted: asInKit, valves: { [socket]: type } },
    depth: 'nominal',
  });
  if (!answer.ok) throw new Error(answer.problems[0].message);
  const { verdict, reasons, readings } = answer.value;
  return {
    ...{ kit: kit.id, socket, type, verdict },
    reasons: [...new Set(reasons.map(({ code }) => code))],
    damage: reasons.filter(({ damage }) => damage !== null).length,
    // Without bands every reading that moves at all leaves its band: those by 5 % and more are counted.
    outside: readings.filter(({ movedShare }) => Math.abs(movedShare ?? 0) > 0.05).length,
    lost: readings.filter(({ after }) => after === null).length,
  };
}

function lineOf({ kit, socket, type, verdict, reasons, damage, outside, lost }: FitRow): string {
  const moved = verdict === 'no' ? '' : `${outside} move by more than 5 %, ${lost} no longer predicted`;
  const why =
    reasons.length > 0 ? `${reasons.join(', ')}${damage > 0 ? ` (${damage} with damage)` : ''}` : moved;
  return `  ${kit.padEnd(7)} ${socket.padEnd(9)} ${type.padEnd(8)} ${verdict.padEnd(8)} ${why}`;
}
