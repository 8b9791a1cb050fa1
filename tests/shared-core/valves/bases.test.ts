import { describe, expect, it } from 'vitest';
import { findValveBase, pinDegrees, valveBases } from '../../../shared-core/valves/bases.ts';

describe.each(valveBases.map((base) => ({ name: base.name, base })))('base $name', ({ base }) => {
  it('closes the circle with its places', () => {
    expect(base.places * base.stepDegrees).toBe(360);
  });

  it('puts the gap or key half way between the last pin and pin 1', () => {
    const before = 360 - pinDegrees(base, base.pins);
    expect(pinDegrees(base, 1)).toBe(before);
  });

  it('numbers clockwise in equal steps', () => {
    for (let pin = 2; pin <= base.pins; pin++) {
      expect(pinDegrees(base, pin) - pinDegrees(base, pin - 1)).toBeCloseTo(base.stepDegrees, 9);
    }
  });
});

describe('findValveBase', () => {
  it('knows the other names of a base', () => {
    expect(findValveBase('Noval')?.name).toBe('B9A');
    expect(findValveBase('b9a')?.name).toBe('B9A');
    expect(findValveBase('B10B')).toBeUndefined();
  });

  it('leaves a whole place free as the gap of a B9A and none in an octal', () => {
    expect(pinDegrees(findValveBase('B9A')!, 1)).toBe(36);
    expect(pinDegrees(findValveBase('octal')!, 1)).toBe(22.5);
  });
});
