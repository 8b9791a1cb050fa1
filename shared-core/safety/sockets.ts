import type { SafetyState } from './energy-state.ts';
import type { ConditionFacts, SafetyFacts } from './facts.ts';

/** What is recorded of a socket. */
export type SocketStanding = 'fitted' | 'empty' | 'not known';

/** A socket in which something else is recorded than a condition is made for. */
export interface SocketDifference {
  readonly socket: string;
  readonly is: SocketStanding;
  readonly shouldBe: 'fitted' | 'empty';
}

/** What is recorded of a socket: loose parts begin with empty sockets, anything else with unknown ones. */
export function socketStanding(
  socket: string,
  { valvesFitted, valvesOut, socketsUnknown }: SafetyState,
): SocketStanding {
  if (valvesFitted.includes(socket)) return 'fitted';
  return valvesOut.includes(socket) || !socketsUnknown ? 'empty' : 'not known';
}

/** Whether a condition is made for a valve in this socket. */
export function isFittedIn(socket: string, { fitted }: Pick<ConditionFacts, 'fitted'>): boolean {
  return fitted === 'all' || fitted.includes(socket);
}

/** The sockets whose record differs from what a condition is made for, both ways, in the kit's order. */
export function socketDifferences(
  condition: Pick<ConditionFacts, 'fitted'>,
  state: SafetyState,
  { sockets }: Pick<SafetyFacts, 'sockets'>,
): readonly SocketDifference[] {
  return sockets.flatMap((socket): readonly SocketDifference[] => {
    const is = socketStanding(socket, state);
    const shouldBe = isFittedIn(socket, condition) ? 'fitted' : 'empty';
    return is === shouldBe ? [] : [{ socket, is, shouldBe }];
  });
}
