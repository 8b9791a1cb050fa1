import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { compareKits } from '../../../shared-core/journal/kit-difference.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';
import { initialSafety } from '../../../shared-core/safety/initial-safety.ts';
import type { ReadingStanding, StepStanding } from '../../../shared-core/safety/energy-state.ts';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { draining, liveOnLamp, provenDead, ready } from '../../helpers/safety/stages.ts';
import { root } from '../../run/child.mjs';

const path = join(root, 'kits/heron/kit.yaml');
const text = readFileSync(path, 'utf8');

function heronWith(from: string | RegExp, to: string) {
  const changed = text.replace(from, to);
  if (changed === text && from !== '') throw new Error(`${from} is not in the kit`);
  const kit = readKit(changed, path);
  if (!kit.ok) throw new Error(kit.problems[0].message);
  const chosen = chooseKit(kit.value);
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  return chosen.value;
}

const before = heronWith('', '');
const stamp = { at: '2026-03-07T09:00:00.000Z', run: 'r', tick: 0 };
const read: ReadingStanding = { verdict: 'as expected', stamp, value: 1, counts: true, settled: 'settled' };
const done: StepStanding = { status: 'done', ticked: [] };
/** A build in which every step is done and every reading was taken. */
const all = {
  steps: Object.fromEntries(before.chapters.flatMap(({ steps }) => steps.map(({ id }) => [id, done]))),
  readings: Object.fromEntries(before.readings.map(({ id }) => [id, read])),
};

describe('a changed kit against the one of a build', () => {
  test('names nothing for an equal one', () => {
    const difference = compareKits(before, heronWith('', ''), 'x', all);
    expect(Object.values(difference).flat().filter(Boolean)).toEqual(['B', 'x']);
  });

  test('names the part, the finished steps that have it, and what was read with it', () => {
    const after = heronWith(/(\bR21:[^\n]*value: )[^,]+/, '$1390');
    const { parts, reopenedSteps, takenBack, readings } = compareKits(before, after, 'x', all);
    expect(parts).toEqual(['R21']);
    expect(readings).toEqual([]);
    expect(reopenedSteps).toContain('fit-output-cathode');
    expect(reopenedSteps).not.toContain('fit-c5');
    // Cold on its own net, live everywhere; the mains side and other nets stay.
    expect(takenBack).toEqual(expect.arrayContaining(['v2-cathode-cold', 'v2-cathode', 'b1-running']));
    expect(takenBack).not.toContain('earth-bond');
    expect(takenBack).not.toContain('b1-cold');
  });

  test('reopens what was begun only', () => {
    const after = heronWith(/(\bR21:[^\n]*value: )[^,]+/, '$1390');
    const none = compareKits(before, after, 'x', { steps: {}, readings: {} });
    expect([none.reopenedSteps, none.takenBack]).toEqual([[], []]);
  });

  test('reopens a step whose words are other ones, and leaves an explanation alone', () => {
    const words = heronWith('Run W31, orange,', 'Run W31, orange, sleeved,');
    expect(compareKits(before, words, 'x', all).reopenedSteps).toEqual(['wire-supply-out']);
    const why = heronWith('The earth goes from strip to strip', 'The signal earth goes from strip to strip');
    expect(compareKits(before, why, 'x', all)).toMatchObject({ steps: [], reopenedSteps: [] });
  });
});

describe('accepting it', () => {
  const change = { revision: 'C', kitHash: 'c', reopenedSteps: ['wire-ht'], changedReadings: ['b1-cold'] };

  test.each([
    ['live', liveOnLamp],
    ['draining', draining],
  ])('is refused while %s', (_, start) => {
    expect(start(rulebook).codes('kit-changed', change)).toContain('safety/kit-change-not-dead');
  });

  test('reopens and takes back, and a proof made with the old list of stores is made anew', () => {
    const amp = provenDead(rulebook);
    amp.do('kit-changed', change);
    const { energy, steps, readings } = amp.safety();
    expect(energy).toMatchObject({ kind: 'draining', why: 'kit changed', timeKnown: false });
    expect(amp.mayInside()).toBe(false);
    expect([steps['wire-ht']?.status, readings['b1-cold']?.counts]).toEqual(['reopened', false]);
    expect(readings['earth']?.counts).toBe(true);
  });

  test('leaves loose parts that were never plugged in dead', () => {
    const amp = ready()(rulebook);
    amp.do('kit-changed', change);
    expect(amp.safety().energy).toMatchObject({ kind: 'dead', proof: 'never plugged in' });
    expect(initialSafety('loose parts').everPluggedIn).toBe(false);
  });
});
