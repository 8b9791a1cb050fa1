import type { ValvePart } from '../kit/kit.ts';
import type { FaultSort } from './fault.ts';
import type { FaultModel } from './fault-model.ts';
import type { NextStep } from './next-step.ts';
import type { Suspect } from './rank-causes.ts';

/** Faults that sit in the valve itself and go with it into another socket. */
const inTheValve: readonly FaultSort[] = ['valve worn'];

/** Faults that may be a short: a good valve is not put there. */
const maybeShort: readonly FaultSort[] = ['bridge', 'wrong place', 'leaky', 'reversed', 'leads exchanged'];

/** With more than this of a possible short at a socket no good valve is put into it. */
const mostShort = 0.02;

/** An exchange of two like valves, with what it tells. */
export interface ExchangeAction {
  readonly id: string;
  readonly information: number;
  readonly step: NextStep;
}

/**
 * Exchanges of two like valves that would show whether the fault goes with the valve.
 *
 * Plug out, proven empty, valves cool. Never into a socket that may be shorted: with any likely bridge, misplaced
 * lead or leak among the suspects the exchange is not offered.
 */
export function exchangeActions(
  { chosen, fitted }: FaultModel,
  suspects: readonly Suspect[],
  chances: readonly number[],
): readonly ExchangeAction[] {
  const valves = chosen.parts.filter((part): part is ValvePart => part.kind === 'valve');
  const typeOf = ({ id, type }: ValvePart): string => fitted.valves[id] ?? type;
  const shareOf = (isSuch: (suspect: Suspect) => boolean): number =>
    suspects.reduce((sum, suspect, index) => sum + (isSuch(suspect) ? (chances[index] ?? 0) : 0), 0);
  const shorted = shareOf(({ fault }) =>
    fault.fault.faults.some(({ sort, kind }) => maybeShort.includes(sort) || kind === 'shorted'),
  );
  if (shorted > mostShort) return [];
  return valves.flatMap((one, index) =>
    valves.slice(index + 1).flatMap((other): readonly ExchangeAction[] => {
      if (typeOf(one) !== typeOf(other)) return [];
      const share = shareOf(({ fault }) =>
        fault.fault.faults.every(
          ({ part, sort }) => inTheValve.includes(sort) && (part === one.id || part === other.id),
        ),
      );
      if (!(share > 0) || share >= 1) return [];
      const information = -share * Math.log(share) - (1 - share) * Math.log(1 - share);
      return [
        { id: `exchange ${one.id} ${other.id}`, information, step: stepOf(one, other, share, information) },
      ];
    }),
  );
}

function stepOf(one: ValvePart, other: ValvePart, share: number, information: number): NextStep {
  return {
    ...{ place: null, measure: null, reading: null, condition: 'cold', information },
    action:
      `Pull the plug, prove every store empty and let the valves cool. ` +
      `Then exchange ${one.id} and ${other.id} and take the readings that were off again.`,
    why: 'If what was wrong goes with the valve, the valve is at fault; if it stays, the socket or a part there is.',
    outcomes: [
      { shows: 'it goes with the valve', means: [`${one.id} or ${other.id} itself`], probability: share },
      { shows: 'it stays where it was', means: ['a part or a joint'], probability: 1 - share },
    ],
  };
}
