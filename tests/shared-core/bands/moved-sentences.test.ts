import { describe, expect, it } from 'vitest';
import type { ConditionedReading } from '../../../shared-core/bands/condition-on.ts';
import { movedSentences } from '../../../shared-core/bands/moved-sentences.ts';
import { bareReading } from '../../helpers/bare-reading.ts';

const at = (id: string, nominal: number, cause: string | null = null): ConditionedReading => ({
  prediction: bareReading(id, nominal),
  because: cause === null ? null : 'because',
  cause: cause === null ? null : { reading: cause, how: 'reads 3 % high' },
});

describe('movedSentences', () => {
  const before = ['b1', 'b2', 'b3', 'b4', 'heater'].map((id) => at(id, 100));

  it('says once for each cause which readings moved, and which way', () => {
    const after = [
      at('b1', 103, 'mains'),
      at('b2', 103, 'mains'),
      at('b3', 103, 'mains'),
      at('b4', 98, 'mains'),
      at('heater', 102, 'primary'),
    ];
    expect(movedSentences(before, after, { mains: 'Mains', b1: 'B+' })).toEqual([
      'Mains reads 3 % high: B+ and 2 others expected higher, b4 lower.',
      'primary reads 3 % high: heater expected higher.',
    ]);
  });

  it('names both of two, and no figure of a reading still to come', () => {
    const after = [at('b1', 95, 'mains'), at('b2', 95, 'mains'), ...before.slice(2)];
    const [sentence] = movedSentences(before, after, {});
    expect(sentence).toBe('mains reads 3 % high: b1 and b2 expected lower.');
    expect(sentence).not.toMatch(/95|100/);
  });

  it('is silent about readings that were taken, that hardly moved, or that moved before', () => {
    const after = [at('b1', 103, 'mains'), at('b2', 100.4, 'mains'), ...before.slice(2)];
    expect(movedSentences(before, after, {}, (id) => id !== 'b1')).toEqual([]);
    expect(movedSentences(after, after, {})).toEqual([]);
  });
});
