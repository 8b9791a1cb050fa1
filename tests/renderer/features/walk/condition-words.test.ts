import { describe, expect, it } from 'vitest';
import { plugWords, socketWords } from '../../../../renderer/features/walk/condition-words.ts';

describe('socketWords', () => {
  it('says before every plug which valves are in, and that the others come out', () => {
    const sockets = ['V1', 'V2', 'V3'];
    expect(socketWords({ supply: 'lamp', fitted: [] }, sockets)).toBe(
      'In the sockets for this: no valve. Take V1, V2, V3 out if they are in.',
    );
    expect(socketWords({ supply: 'mains', fitted: ['V3'] }, sockets)).toBe(
      'In the sockets for this: V3. Take V1, V2 out if they are in.',
    );
    expect(socketWords({ supply: 'mains', fitted: 'all' }, sockets)).toBe(
      'In the sockets for this: V1, V2, V3.',
    );
  });

  it('says nothing where no valve matters', () => {
    expect(socketWords({ supply: 'insulation-tester', fitted: [] }, ['V1'])).toBeNull();
    expect(socketWords({ supply: 'mains', fitted: 'all' }, [])).toBeNull();
  });
});

describe('plugWords', () => {
  it('has the lamp watched on the lamp limiter: bright is a short', () => {
    expect(plugWords('lamp')).toMatch(/stays bright.*F9/);
    expect(plugWords('mains')).not.toMatch(/lamp/);
    for (const supply of ['lamp', 'mains', 'variac', 'bench'] as const) {
      expect(plugWords(supply)).toMatch(/^Plug in now/);
    }
    expect(plugWords('insulation-tester')).not.toMatch(/plug/i);
  });
});
