import { describe, expect, test } from 'vitest';
import { checkKit } from '../../../shared-core/kit/check-kit.ts';
import { kitProblemCodes } from '../../../shared-core/problem/kit-problem-codes.ts';
import { brokenBias } from '../../fixtures/kits/broken-bias.ts';
import { brokenDanger } from '../../fixtures/kits/broken-danger.ts';
import { brokenStructure } from '../../fixtures/kits/broken-structure.ts';
import { brokenText } from '../../fixtures/kits/broken-text.ts';
import { brokenValves } from '../../fixtures/kits/own-valves.ts';
import { patch, positionIn, smallKit, smallKitFiles } from '../../fixtures/kits/patch.ts';

const brokenKits = [...brokenText, ...brokenStructure, ...brokenDanger, ...brokenBias, ...brokenValves];

describe('a kit with one mistake', () => {
  test.each(brokenKits)('reports $code at its line with a hint: $what', (broken) => {
    const text = broken.text ?? patch(smallKit, broken.replace);
    const result = checkKit(text, 'kit.yaml', smallKitFiles);
    const problems = result.ok ? result.warnings : result.problems;
    expect(problems.map(({ code }) => code)).toEqual([broken.code]);
    const [problem] = problems;
    expect(problem?.hint).toContain(broken.hint);
    expect(problem?.severity).toBe(broken.severity ?? 'error');
    expect(problem?.file).toBe('kit.yaml');
    expect(result.ok).toBe(broken.severity === 'warning');
    if (broken.at === '') return;
    expect({ line: problem?.line, column: problem?.column }).toEqual(positionIn(text, broken.at));
  });

  test('has a fixture for every code', () => {
    const covered = new Set(brokenKits.map(({ code }) => code));
    expect(kitProblemCodes.filter((code) => !covered.has(code))).toEqual([]);
  });
});

describe('the small kit', () => {
  test('has no problem and no warning', () => {
    const result = checkKit(smallKit, 'kit.yaml', smallKitFiles);
    expect(result.ok ? result.warnings : result.problems).toEqual([]);
    expect(result.ok && result.value.parts.length).toBe(18);
  });
});
