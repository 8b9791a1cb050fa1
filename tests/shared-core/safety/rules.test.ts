import { describe, expect, test } from 'vitest';
import type { Rulebook } from '../../../shared-core/safety/guard.ts';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { eventScenarios } from '../../helpers/safety/event-scenarios.ts';
import { instrumentScenarios } from '../../helpers/safety/instrument-scenarios.ts';
import { plugScenarios } from '../../helpers/safety/plug-in-scenarios.ts';
import { lapseScenarios, proofScenarios } from '../../helpers/safety/proof-scenarios.ts';

const scenarios = [
  ...eventScenarios,
  ...instrumentScenarios,
  ...plugScenarios,
  ...proofScenarios,
  ...lapseScenarios,
];
const ids = [...rulebook.guards, ...rulebook.proofs, ...rulebook.lapses].map((each) => each.id);

describe('with every rule in place', () => {
  test.each(scenarios)('$rule says no: $name', ({ isSafe }) => {
    expect(isSafe(rulebook)).toBe(true);
  });
});

describe('with one rule taken out', () => {
  test.each(ids)('a story notices that %s is gone', (id) => {
    const noticed = scenarios.filter(({ isSafe }) => !isSafe(without(id))).map((each) => each.rule);
    expect(noticed).toContain(id);
  });

  test('no rule has the name of another', () => {
    expect(new Set(ids).size).toBe(ids.length);
  });
});

function without(id: string): Rulebook {
  return {
    guards: rulebook.guards.filter((each) => each.id !== id),
    proofs: rulebook.proofs.filter((each) => each.id !== id),
    lapses: rulebook.lapses.filter((each) => each.id !== id),
  };
}
