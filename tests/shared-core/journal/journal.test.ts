import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { currentStep, stepProgress } from '../../../shared-core/journal/current-step.ts';
import {
  foldBuild,
  foldJournal,
  initialBuild,
  isSafetyEvent,
} from '../../../shared-core/journal/fold-build.ts';
import { chainStart, nextEntry, type JournalEntry } from '../../../shared-core/journal/journal-entry.ts';
import { parseJournal, type ParsedJournal } from '../../../shared-core/journal/parse-journal.ts';
import { holdsProof } from '../../helpers/energy-oracle.ts';
import { finch, finchBench } from '../../helpers/finch.ts';
import { enter, plugIn } from '../../helpers/journey.ts';
import { scriptBuild, sha256, type ScriptedBuild } from '../../helpers/scripted-build.ts';
import { buildFinch, endCondition } from '../../helpers/scripted-safety.ts';

const header = {
  format: 'kitwright-journal/1',
  build: '2f6c3a52-8f0e-4b7c-9a31-000000000001',
  kit: 'finch',
  revision: 'A',
  kitHash: 'finch-a',
} as const;

/** Finch through its lamp stage, with a restart on the way. */
function journey(): ScriptedBuild {
  const build = scriptBuild({ facts: finch, header });
  build.do('bench-recorded', { bench: finchBench });
  build.do('step-started', { step: 'wire-ht' });
  build.wait(90);
  buildFinch(build);
  build.restart();
  plugIn(build, 'lamp', 'on-lamp');
  enter(build, 'ht-ac', { value: 250 });
  build.do('step-done', { step: 'read-lamp' });
  endCondition(build);
  build.do('note-written', { about: 'read-lamp', text: 'lamp went dim at once' });
  return build;
}

function parsed(text: string): ParsedJournal {
  const result = parseJournal(text, sha256);
  if (!result.ok) throw new Error(result.problems[0].message);
  return result.value;
}

describe('a journal', () => {
  const build = journey();
  const text = build.text();
  const lines = text.split('\n');

  test('folds back into the same build', () => {
    const journal = parsed(text);
    expect(journal).toMatchObject({ aside: '', broken: null, cut: null, sound: text });
    expect(foldJournal(journal, finch)).toEqual(build.state());
  });

  test('keeps an unfinished last line aside', () => {
    const cut = text.slice(0, -20);
    const result = parseJournal(cut, sha256);
    expect(result).toMatchObject({
      ok: true,
      warnings: [{ code: 'journal/cut-off', line: lines.length - 1 }],
    });
    const journal = parsed(cut);
    expect(journal.aside).toBe(lines.at(-2)?.slice(0, -19));
    expect(journal.sound + journal.aside).toBe(cut);
    // The line cut is a note: nothing that could have connected a supply.
    expect(journal.cut?.suspect).toBe(false);
  });

  test('believes nothing after a line that was changed', () => {
    const changed = text.replace('"value":250', '"value":240');
    const result = parseJournal(changed, sha256);
    const line = lines.findIndex((each) => each.includes('"value":250')) + 1;
    expect(result).toMatchObject({ ok: true, warnings: [{ code: 'journal/broken', line }] });
    expect(foldJournal(parsed(changed), finch).safety.energy).toMatchObject({
      kind: 'draining',
      why: 'journal broken',
    });
  });

  test('notices lines cut at its end when the end was noted elsewhere', () => {
    const cut = `${lines.slice(0, 10).join('\n')}\n`;
    const end = parsed(text).end;
    expect(parseJournal(cut, sha256)).toMatchObject({ ok: true, warnings: [] });
    expect(parseJournal(cut, sha256, end)).toMatchObject({
      ok: true,
      warnings: [{ code: 'journal/broken' }],
    });
  });

  test('is refused by name when it is newer', () => {
    const newer = text.replace('kitwright-journal/1', 'kitwright-journal/2');
    expect(parseJournal(newer, sha256)).toMatchObject({
      ok: false,
      problems: [{ code: 'journal/other-format' }],
    });
    expect(parseJournal('hello\n', sha256)).toMatchObject({
      ok: false,
      problems: [{ code: 'journal/no-header' }],
    });
  });

  test('a cut tail that may have been the plug going in leaves nothing proven', () => {
    const at = lines.findIndex((each) => each.includes('"kind":"plugged-in"'));
    const whole = `${lines.slice(0, at).join('\n')}\n`;
    for (const length of [3, 60, 100, 400]) {
      const journal = parsed(whole + (lines[at] ?? '').slice(0, length));
      expect(journal.cut?.suspect).toBe(true);
      expect(foldJournal(journal, finch).safety.energy.kind).toBe('draining');
    }
  });

  test('however it is cut, edited or shuffled, it proves no more than it did', () => {
    const edit = fc.record({
      kind: fc.constantFrom('cut', 'drop', 'swap', 'double', 'flip'),
      at: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 3 }), (edits) => {
        const changed = edits.reduce((each, { kind, at }) => edited(each, kind, at), text);
        const result = parseJournal(changed, sha256, parsed(text).end);
        if (!result.ok || changed === text) return;
        expect(foldJournal(result.value, finch).safety.energy.kind).toBe('draining');
      }),
      { numRuns: 300 },
    );
  });

  test('a plug-in that the rules refuse, chained anew by a forger, opens nothing and ends what was proven', () => {
    const forged = scriptBuild({ facts: finch, header });
    let end = { seq: 1, hash: forged.entries()[0]?.hash ?? '' };
    let state = foldBuild(initialBuild(header), forged.entries()[0] as JournalEntry, finch);
    const event = { kind: 'plugged-in', by: 'hand', condition: 'running', step: null } as const;
    const next = nextEntry(end, event, forged.clock.now(), sha256);
    if (next === null) throw new Error('no entry');
    end = { seq: 2, hash: next.entry.hash };
    state = foldBuild(state, next.entry, finch);
    expect(state.refusedEntries).toEqual([2]);
    expect(state.safety.energy.kind).toBe('draining');
    expect(state.plugIns).toEqual([]);
  });

  test('a forged selection of true events, in any order, is dead only with a proof of its own', () => {
    const [start, ...events] = build.entries();
    let proven = 0;
    const forge = (chosen: readonly JournalEntry[]): void => {
      const all = start === undefined ? [] : [start, ...chosen];
      let end = chainStart(header, sha256);
      let state = initialBuild(header);
      for (const { event, at, run, tick } of all) {
        const next = nextEntry(end, event, { at, run, tick }, sha256);
        if (next === null) throw new Error('no entry');
        end = { seq: next.entry.seq, hash: next.entry.hash };
        state = foldBuild(state, next.entry, finch);
      }
      const { energy, everPluggedIn, last } = state.safety;
      const accepted = all.filter((_, index) => !state.refusedEntries.includes(index + 1));
      const told = accepted.flatMap(({ event, at, run, tick }) =>
        isSafetyEvent(event) ? [{ event, stamp: { at, run, tick } }] : [],
      );
      const isProvenDead = everPluggedIn && energy.kind === 'dead' && last !== null;
      proven += isProvenDead ? 1 : 0;
      expect(!isProvenDead || holdsProof(told, last, finch)).toBe(true);
    };
    forge(events);
    const few = fc.uniqueArray(fc.nat({ max: events.length - 1 }), { maxLength: 4 });
    fc.assert(
      fc.property(few, (dropped) => forge(events.filter((_, index) => !dropped.includes(index)))),
      { numRuns: 200 },
    );
    fc.assert(fc.property(fc.shuffledSubarray(events), forge), { numRuns: 200 });
    // Some selections keep the whole drain: without them the test would show nothing.
    expect(proven).toBeGreaterThan(20);
  });
});

describe('a build folded from its journal', () => {
  const build = journey();

  test('knows its steps with their times', () => {
    const { steps } = build.state();
    expect(steps['wire-ht']).toMatchObject({ status: 'done', seconds: 90 });
    expect(currentStep(build.state(), finch)?.id).toBe('off-lamp');
    expect(stepProgress(build.state(), finch)).toEqual({ done: 8, all: finch.steps.length });
  });

  test('keeps the drain with the figures of the curves', () => {
    const [drain] = build.state().drains;
    expect(build.state().drains).toHaveLength(1);
    expect(drain).toMatchObject({ why: 'plug pulled', timeKnown: true });
    expect(drain?.looks.map(({ store, volts }) => [store, volts])).toEqual([
      ['C1', 0.1],
      ['C2', 0.1],
      ['C1', 0.1],
      ['C2', 0.1],
    ]);
    // 10 s after the plug: C1 falls likely with 20 s from 340 V.
    expect(drain?.looks[0]).toMatchObject({ seconds: 10 });
    expect(drain?.looks[0]?.likelyVolts).toBeCloseTo(340 * Math.exp(-10 / 20), 3);
    expect(drain?.provenAt).not.toBeNull();
    expect(build.state().plugIns).toMatchObject([{ condition: 'lamp', outAt: expect.any(String) as string }]);
  });

  test('says which entry plugged in, opened the drain and completed the proof', () => {
    const { drains, plugIns } = build.state();
    const kindOf = (seq: number | null | undefined): string | undefined =>
      build.entries().find((entry) => entry.seq === seq)?.event.kind;
    expect(kindOf(plugIns[0]?.seq)).toBe('plugged-in');
    expect(kindOf(drains[0]?.seq)).toBe('plug-out-confirmed');
    expect(kindOf(drains[0]?.provenSeq)).toBe('meter-shown-to-work');
  });

  test('keeps the first number when a reading is taken again', () => {
    const again = journey();
    enter(again, 'b2-cold', { value: 1, verdict: 'out of band' });
    again.do('verdict-accepted', { reading: 'b2-cold', reason: 'bleeder of another value' });
    enter(again, 'b2-cold', { value: 2 });
    const record = again.state().readings['b2-cold'];
    expect(record?.entries.map(({ typed, verdict }) => [typed, verdict])).toEqual([
      ['1', 'out of band'],
      ['2', 'as expected'],
    ]);
    expect(record).toMatchObject({ verdict: 'as expected', settled: 'settled' });
  });

  test('a build whose journal does not start with its start is an old record', () => {
    expect(initialBuild(header).safety.energy).toMatchObject({ kind: 'draining', why: 'old record' });
  });
});

/** One careless edit of a text, at a part of its length. */
function edited(text: string, kind: string, at: number): string {
  const lines = text.split('\n').slice(0, -1);
  const index = 1 + Math.floor(at * (lines.length - 2));
  const line = lines[index] ?? '';
  switch (kind) {
    case 'cut':
      return text.slice(0, Math.floor(at * text.length));
    case 'drop':
      return `${lines.toSpliced(index, 1).join('\n')}\n`;
    case 'double':
      return `${lines.toSpliced(index, 0, line).join('\n')}\n`;
    case 'swap':
      return `${lines.toSpliced(index, 1).concat(line).join('\n')}\n`;
    default:
      return `${lines
        .toSpliced(
          index,
          1,
          line.replace(/\d/, (digit) => String((Number(digit) + 1) % 10)),
        )
        .join('\n')}\n`;
  }
}
