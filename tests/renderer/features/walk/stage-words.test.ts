import { describe, expect, it } from 'vitest';
import { stageWords } from '../../../../renderer/features/walk/stage-words.ts';

const valves = [
  { socket: 'V1', is: 'heated' },
  { socket: 'V2', is: 'heated' },
  { socket: 'V3', is: 'rectifier' },
  { socket: 'V4', is: 'gas-filled' },
] as const;
const stage = { supply: 'mains', fitted: [], lampWatts: null, readyAfterSeconds: 0 } as const;

describe('what a stage looks like', () => {
  it('names the kit’s lamp, its flash and that it goes dark without valves', () => {
    const words = stageWords({ ...stage, supply: 'lamp', lampWatts: 60 }, valves);
    expect(words?.will[0]).toBe('The 60\u202fW lamp flashes, then goes dim or dark.');
    expect(words?.will[1]).toMatch(/no valve/);
    expect(words?.wrong[0]).toBe('the lamp stays bright');
  });

  it('says that valves stay on the lamp for five minutes at most', () => {
    const words = stageWords({ ...stage, supply: 'lamp', fitted: ['V3'] }, valves);
    expect(words?.will.join(' ')).toMatch(/settles to a glow.*5 minutes at most/);
  });

  it('tells the rectifier from the other valves, and names only those that are in', () => {
    const only = stageWords({ ...stage, fitted: ['V3'], readyAfterSeconds: 30 }, valves)?.will.join(' ');
    expect(only).toMatch(/^V3: glows dull orange/);
    expect(only).not.toMatch(/V1|lamp/);
    const all = stageWords({ ...stage, fitted: 'all', readyAfterSeconds: 120 }, valves)?.will ?? [];
    expect(all[1]).toMatch(/^V1, V2: glow orange.*waits 120\u202fs/);
    expect(all[2]).toMatch(/^V4: strikes/);
  });

  it('has red metal pull the plug only where a valve is in', () => {
    expect(stageWords(stage, valves)?.wrong.join()).not.toMatch(/red metal/);
    expect(stageWords({ ...stage, fitted: 'all' }, valves)?.wrong.join()).toMatch(/red metal/);
  });

  it('says nothing of the insulation tester', () => {
    expect(stageWords({ ...stage, supply: 'insulation-tester' }, valves)).toBeNull();
  });
});
