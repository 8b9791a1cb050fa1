import { describe, expect, test } from 'vitest';
import { checkKit } from '../../../shared-core/kit/check-kit.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import { patch, smallKit, smallKitFiles } from '../../fixtures/kits/patch.ts';

/** Two resistors in series for each channel, on a strip for each, with a reading at the joint. */
const twoChannels = patch(smallKit, [
  [
    '  R4: { kind: resistor',
    [
      '  TS2: { kind: tag-strip, title: "Strip", tags: 2, channels: [left, right] }',
      '  R5: { kind: resistor, title: "Upper", value: 10k, tolerance: 5 %, rating: 1 W, channels: [left, right], between: [TS1.1, TS2.1] }',
      '  R6: { kind: resistor, title: "Lower", value: 10k, tolerance: 5 %, rating: 1 W, channels: [left, right], between: [joint, TS1.6] }',
      '  R4: { kind: resistor',
    ].join('\n'),
  ],
  ['  b1: TS1.1\n', '  b1: TS1.1\n  joint: TS2.1\n'],
  [
    '  heater-lamp:',
    '  joint-cold: { title: "Joint", at: joint, against: R5.1, measure: ohms, in: cold, channels: [left, right] }\n  heater-lamp:',
  ],
  ['parts: [R2, R3, R4]', 'parts: [R2, TS2, R5, R6, R3, R4]'],
  ['apart, b1-cold]', 'apart, joint-cold, b1-cold]'],
]);

describe('a part written once for its channels', () => {
  const result = checkKit(twoChannels, 'kit.yaml', smallKitFiles);
  const kit = result.ok ? result.value : null;
  const chosen = kit && chooseKit(kit);

  test('is one part for each channel, joined within its own channel', () => {
    expect(result.ok ? [] : result.problems).toEqual([]);
    const part = (id: string) => kit?.parts.find((each) => each.id === id);
    expect(part('R5')).toBeUndefined();
    expect(part('R5-left')).toMatchObject({ title: 'Upper, left', between: ['TS1.1', 'TS2-left.1'] });
    expect(part('R6-right')).toMatchObject({ between: ['joint-right', 'TS1.6'] });
    const netOf = chosen?.ok ? chosen.value.netOf : {};
    expect(netOf['TS2-left.1']).toBe('joint-left');
    expect(netOf['R5-right.2']).toBe('joint-right');
    expect(netOf['TS2-left.1']).not.toBe(netOf['TS2-right.1']);
  });

  test('is measured in each channel and fitted in all of them by a step that names it once', () => {
    expect(kit?.readings.find(({ id }) => id === 'joint-cold-right')).toMatchObject({
      at: 'joint-right',
      against: 'R5-right.1',
    });
    const steps = kit?.chapters.flatMap((chapter) => chapter.steps) ?? [];
    const fitted = steps.find(({ id }) => id === 'wire-output')?.parts;
    expect(fitted).toEqual([
      'R2',
      'TS2-left',
      'R5-left',
      'R6-left',
      'R3',
      'R4',
      'TS2-right',
      'R5-right',
      'R6-right',
    ]);
    const read = steps.find(({ id }) => id === 'read-cold')?.action;
    expect(read).toMatchObject({ readings: expect.arrayContaining(['joint-cold-left', 'joint-cold-right']) });
  });

  test('keeps its line: a mistake in it is reported once, where it stands', () => {
    const broken = patch(twoChannels, [['between: [joint, TS1.6]', 'between: [join, TS1.6]']]);
    const refused = checkKit(broken, 'kit.yaml', smallKitFiles);
    const problems = refused.ok ? [] : refused.problems.filter(({ code }) => code === 'kit/unknown-net');
    const line = broken.slice(0, broken.indexOf('  R6: {')).split('\n').length;
    expect(problems.length).toBeGreaterThan(0);
    expect(new Set(problems.map((problem) => problem.line))).toEqual(new Set([line]));
  });

  test('needs the channel where only one can be meant', () => {
    const broken = patch(twoChannels, [['at: V1.3, measure: dc volts', 'at: TS2.1, measure: dc volts']]);
    const refused = checkKit(broken, 'kit.yaml', smallKitFiles);
    expect(refused.ok ? [] : refused.problems).toEqual([
      expect.objectContaining({ code: 'kit/unknown-part', hint: expect.stringContaining('TS2-') as string }),
    ]);
  });
});

describe('matched sets', () => {
  test('name valves of the kit', () => {
    const good = checkKit(`${smallKit}\nmatched: [[V1, V2]]\n`, 'kit.yaml', smallKitFiles);
    expect(good.ok && good.value.matched).toEqual([['V1', 'V2']]);
    const bad = checkKit(`${smallKit}\nmatched: [[V1, R1]]\n`, 'kit.yaml', smallKitFiles);
    expect(bad.ok ? [] : bad.problems.map(({ code, hint }) => ({ code, hint }))).toEqual([
      { code: 'kit/unknown-part', hint: 'There is V1, V2.' },
    ]);
  });
});
