import type { ChosenKit } from '../kit/chosen-kit.ts';
import { didYouMean } from '../kit/did-you-mean.ts';
import type { Fitted } from '../prediction/bench.ts';
import type { KitProblem, Result } from '../problem/problem.ts';
import { fail, succeed } from '../problem/problem.ts';
import { findValveType, valveTypeNames } from '../valves/index.ts';
import type { ValveType } from '../valves/valve-type.ts';
import { type WiredSocket, wireSocket } from './fit-socket.ts';

/** A socket with the type asked about. */
export interface AskedSocket {
  readonly socket: WiredSocket;
  readonly type: ValveType;
  /** The name it was asked for by. */
  readonly askedAs: string;
}

/** Looks sockets and types up; every mistake at once. */
export function askedSockets(
  chosen: ChosenKit,
  valves: Readonly<Record<string, string>>,
): Result<readonly AskedSocket[]> {
  const sockets = chosen.parts.filter((part) => part.kind === 'valve').map(({ id }) => id);
  const problems: KitProblem[] = [];
  const asked = Object.entries(valves).flatMap(([id, name]): readonly AskedSocket[] => {
    const part = chosen.parts.find((each) => each.id === id);
    const type = findValveType(name, chosen.valves);
    if (part?.kind !== 'valve') {
      const message = `${chosen.name} has no valve socket "${id}"`;
      const hint = didYouMean(id, sockets);
      problems.push({ code: 'kit/unknown-part', severity: 'error', message, hint });
    }
    if (!type) {
      const message = `The valve type "${name}" is not in the catalogue`;
      const hint = didYouMean(name, valveTypeNames(chosen.valves));
      problems.push({ code: 'kit/unknown-valve-type', severity: 'error', message, hint });
    }
    const kitType = part?.kind === 'valve' ? findValveType(part.type, chosen.valves) : undefined;
    if (part?.kind !== 'valve' || !type || !kitType) return [];
    return [{ socket: wireSocket(chosen, part, kitType), type, askedAs: name }];
  });
  const [first, ...rest] = problems;
  return first ? fail(first, ...rest) : succeed(asked);
}

/** What is fitted beside the sockets asked about: those go back to the kit's own type. */
export function fittedBeside(fitted: Fitted, valves: Readonly<Record<string, string>>): Fitted {
  const kept = Object.entries(fitted.valves).filter(([socket]) => !(socket in valves));
  return { ...fitted, valves: Object.fromEntries(kept) };
}
