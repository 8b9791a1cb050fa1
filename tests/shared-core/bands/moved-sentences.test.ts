import { describe, expect, it } from 'vitest';
import type { ConditionedReading } from '../../../shared-core/bands/condition-on.ts';
import { movedSentences } from '../../../shared-core/bands/moved-sentences.ts';
import { bareReading } from '../../helpers/bare-reading.ts';

const at = (id: string, nominal: number, because: string | null = null): ConditionedReading => ({
  prediction: bareReading(id, nominal),
  because,
});

describe('movedSentences', () => {
  const before = ['mains', 'b1', 'b2', 'b3', 'heater'].map((id) => at(id, 100));
  const last = { id: 'mains', value: 103 };

  it('says once which readings moved, and which way', () => {
    const after = [at('mains', 100), at('b1', 103), at('b2', 103), at('b3', 103), at('heater', 98)];
    expect(movedSentences(before, after, last, { mains: 'Mains', b1: 'B+' })).toEqual([
      'Mains reads 3 % high: B+ and 2 others expected higher, heater lower.',
    ]);
  });

  it('names both of two, and no figure of a reading still to come', () => {
    const after = [at('mains', 100), at('b1', 95), at('b2', 95), ...before.slice(3)];
    const [sentence] = movedSentences(before, after, { id: 'mains', value: 94.6 }, {});
    expect(sentence).toBe('mains reads 5 % low: b1 and b2 expected lower.');
    expect(sentence).not.toMatch(/95|100/);
  });

  it('compares with what the readings before it made one expect, where they had moved it', () => {
    // 2 % above nominal, but 1 % below the 103 V that the mains had led to.
    const moved = [at('mains', 100), at('b1', 103, 'Because …'), at('b2', 103, 'Because …')];
    const after = [at('mains', 100), at('b1', 103), at('b2', 102, 'Because …')];
    expect(movedSentences(moved, after, { id: 'b1', value: 102 }, {})).toEqual([
      'b1 reads 1 % below what those before it made one expect: b2 expected lower.',
    ]);
  });

  it('is silent about readings that were taken, and that hardly moved', () => {
    const after = [at('mains', 100), at('b1', 103), at('b2', 100.4), ...before.slice(3)];
    expect(movedSentences(before, after, last, {}, (id) => id !== 'b1')).toEqual([]);
    expect(movedSentences(after, after, last, {})).toEqual([]);
  });
});
