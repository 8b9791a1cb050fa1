import { describe, expect, it } from 'vitest';
import { stepForRefusal } from '../../../../renderer/features/walk/step-for-refusal.ts';
import type { SafetyFacts } from '../../../../shared-core/safety/facts.ts';

const facts = {
  readings: [{ id: 'b1', in: 'rectifier' }],
  steps: [
    { id: 'fuse', action: { kind: 'fuse', part: 'F1' } },
    { id: 'on', action: { kind: 'switch-on', condition: 'rectifier' } },
    { id: 'read', action: { kind: 'read', readings: ['b1'] } },
  ],
} as unknown as Pick<SafetyFacts, 'steps' | 'readings'>;

describe('the step that a refusal leads to', () => {
  it('is the one that takes the reading, or reads the fuse, or the step itself', () => {
    expect(stepForRefusal({ code: 'safety/verdict-open', subject: 'b1' }, facts, 'on')).toBe('read');
    expect(stepForRefusal({ code: 'safety/fuse-not-read', subject: 'F1' }, facts, 'on')).toBe('fuse');
    expect(stepForRefusal({ code: 'safety/steps-not-done', subject: 'on' }, facts, 'read')).toBe('on');
  });

  it('is never the step that is on the screen already', () => {
    expect(stepForRefusal({ code: 'safety/probe-style', subject: 'b1' }, facts, 'read')).toBeNull();
  });

  it('is the switching on, for a live reading in an amplifier that is not live', () => {
    expect(stepForRefusal({ code: 'safety/wrong-condition', subject: 'b1' }, facts, 'read')).toBe('on');
  });
});
