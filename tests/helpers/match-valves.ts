import type { AdjusterSet, ValveFitted, ValveRemoved } from '../../shared-core/safety/events.ts';
import type { SafetyState } from '../../shared-core/safety/energy-state.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import { socketDifferences } from '../../shared-core/safety/sockets.ts';

type ValveEvent = AdjusterSet | ValveFitted | ValveRemoved;

/** What a builder records to bring the sockets to what a condition is made for; adjusters before their valves. */
export function valveEvents(
  state: SafetyState,
  facts: SafetyFacts,
  condition: string,
  typeOf: (socket: string) => string = () => 'as the kit',
): readonly ValveEvent[] {
  const own = facts.conditions.find(({ id }) => id === condition);
  if (own === undefined) return [];
  const by = 'hand';
  return socketDifferences(own, state, facts).flatMap(({ socket, shouldBe }): readonly ValveEvent[] => {
    if (shouldBe === 'empty') return [{ kind: 'valve-removed', by, socket }];
    const adjusters = facts.fixedBias.find((each) => each.socket === socket)?.adjusters ?? [];
    const printed = {
      type: typeOf(socket),
      brand: 'none',
      dateCode: '',
      stock: 'new',
      label: socket,
    } as const;
    return [
      ...adjusters.map((adjuster): AdjusterSet => ({
        kind: 'adjuster-set',
        by,
        adjuster,
        mostNegative: true,
      })),
      { kind: 'valve-fitted', by, socket, ...printed },
    ];
  });
}
