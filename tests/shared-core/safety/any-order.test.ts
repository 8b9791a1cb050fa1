import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Rulebook } from '../../../shared-core/safety/guard.ts';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { finch } from '../../helpers/finch.ts';
import { action, RandomBuilder, type Action } from '../../helpers/random-builder.ts';

const startedFrom = fc.constantFrom('loose parts' as const, 'assembled' as const, 'old record' as const);
const actions = fc.array(action, { minLength: 5, maxLength: 60, size: 'max' });

/** What the oracle finds wrong in one run of things done in any order. */
function faultsOf(
  start: 'loose parts' | 'assembled' | 'old record',
  list: readonly Action[],
  rules: Rulebook,
) {
  const builder = new RandomBuilder(start, finch, rules);
  for (const each of list) builder.act(each);
  return builder;
}

test('whatever is done in whatever order, no hand goes in without a proof and no plug past a gate', () => {
  // Counted, because a run in which the plug never goes in shows nothing.
  let plugIns = 0;
  let proofs = 0;
  fc.assert(
    fc.property(startedFrom, actions, (start, list) => {
      const builder = faultsOf(start, list, rulebook);
      expect(builder.faults).toEqual([]);
      plugIns += builder.told.filter(({ event }) => event.kind === 'plugged-in').length;
      proofs += builder.safety().energy.kind === 'dead' && builder.safety().everPluggedIn ? 1 : 0;
    }),
    { numRuns: 600 },
  );
  expect(plugIns).toBeGreaterThan(100);
  expect(proofs).toBeGreaterThan(100);
}, 60_000);

test.each([
  'inside-needs-dead',
  'proof/second-looks',
  'proof/meter-after',
  'proof/first-looks',
  'lapse/new-run',
  'lapse/clocks-differ',
  'plug-in/clips-off',
  'plug-in/reentry-only-untouched',
  'plug-in/mains-switch-off',
])(
  'the oracle finds the fault when %s is missing',
  (id) => {
    const rules: Rulebook = {
      guards: rulebook.guards.filter((each) => each.id !== id),
      proofs: rulebook.proofs.filter((each) => each.id !== id),
      lapses: rulebook.lapses.filter((each) => each.id !== id),
    };
    const outcome = fc.check(
      fc.property(startedFrom, actions, (start, list) => faultsOf(start, list, rules).faults.length === 0),
      { numRuns: 3000, seed: 1, endOnFailure: true },
    );
    expect(outcome.failed).toBe(true);
  },
  60_000,
);
