import { describe, expect, it } from 'vitest';
import type { Condition } from '../../../shared-core/kit/kit.ts';
import { fullestCondition, fullestConditions } from '../../../shared-core/prediction/stores.ts';

function condition(
  id: string,
  fitted: Condition['fitted'],
  switches: Condition['switches'] = { S1: 'on', S2: 'on' },
): Condition {
  return {
    ...{ id, when: {}, title: id, supply: 'mains', lampWatts: null, variac: null, fitted, switches },
    ...{ controls: {}, input: 'shorted', loads: {}, readyAfterSeconds: 0, cautions: [] },
  };
}

describe('fullestConditions', () => {
  const standby = condition('standby', 'all', { S1: 'on', S2: 'off' });
  const [rectifier, quiet, running] = [
    condition('rectifier', ['V6']),
    condition('quiet', 'all'),
    condition('running', 'all'),
  ];

  it('takes those with every valve in and every switch on, not standby', () => {
    const found = fullestConditions([rectifier, standby, quiet, running]);
    expect(found.map(({ id }) => id)).toEqual(['quiet', 'running']);
    expect(fullestCondition([rectifier, standby, quiet, running])?.id).toBe('quiet');
  });

  it('takes standby where no other condition has as many valves', () => {
    expect(fullestCondition([rectifier, standby])?.id).toBe('standby');
  });

  it('finds none among none', () => {
    expect(fullestConditions([])).toEqual([]);
    expect(fullestCondition([])).toBeUndefined();
  });
});
