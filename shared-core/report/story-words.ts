import type { BuildEvent } from '../journal/build-event.ts';
import type { JournalEntry } from '../journal/journal-entry.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { ReportSource } from './report-source.ts';
import { conditionTitle, partName, readingTitle, stepTitle } from './report-source.ts';
import type { StoryKind } from './story-line.ts';
import { counted, duration, entryWords, instrumentWords, listed } from './words.ts';

interface Line {
  readonly kind: StoryKind;
  readonly text: string;
}

/** What an accepted event is in words; nothing for what only keeps the app's books. */
export function eventWords(entry: JournalEntry, source: ReportSource): readonly Line[] {
  const { event } = entry;
  switch (event.kind) {
    case 'reading-entered':
      return readingLines(entry, event, source);
    case 'plugged-in':
      return [{ kind: 'plug-in', text: `Plug in: ${conditionTitle(source, event.condition)}.` }];
    case 'plug-out-confirmed':
      return [{ kind: 'plug-out', text: plugOutText(entry, source) }];
    case 'store-look':
      return [{ kind: 'look', text: lookText(entry, event, source) }];
    case 'valve-fitted': {
      const marks = [event.brand, event.dateCode, event.stock].filter((each) => each !== '');
      return [{ kind: 'valve', text: `${event.type} fitted as ${event.socket} (${marks.join(', ')}).` }];
    }
    default:
      return otherWords(event, source);
  }
}

type Told = Exclude<
  BuildEvent,
  { readonly kind: 'reading-entered' | 'plugged-in' | 'plug-out-confirmed' | 'store-look' | 'valve-fitted' }
>;

function otherWords(event: Told, source: ReportSource): readonly Line[] {
  switch (event.kind) {
    case 'build-started':
      return one('begin', beginnings[event.startedFrom]);
    case 'run-started':
      return one('run', 'The app was started again.');
    case 'journal-cut':
      return one('refused', `Part of the journal was put aside: ${event.why}.`);
    case 'declared-assembled':
      return one('begin', 'Gathering, assembling and wiring declared as done elsewhere, not witnessed.');
    case 'bench-recorded': {
      const { volts, source: how } = event.bench.mains;
      return one('bench', `Bench: mains ${formatQuantity(volts, 'V')} ${how}; ${event.bench.meter.label}.`);
    }
    case 'instrument-recorded':
      return one('bench', `Instrument: ${instrumentWords(event.instrument)}.`);
    case 'caution-acknowledged':
      return one('caution', `Caution acknowledged: ${event.text}`);
    case 'insulation-not-tested':
      return one('finding', 'No 500 V tester at hand: insulation NOT tested.');
    case 'verdict-accepted':
      return one(
        'accepted',
        `${readingTitle(source, event.reading)}: accepted as it is. Reason: ${event.reason}`,
      );
    case 'repaired':
      return one(
        'repair',
        `Repaired: ${event.what}.${causeWords(event)}${touchedWords(event.places)} To be read again: ${listed(event.readings.map((id) => readingTitle(source, id)))}.`,
      );
    case 'work-inside':
      return one('repair', `Work inside: ${event.what}.`);
    case 'looked-over':
      return one('repair', 'Looked over: solder, clearances, cut-offs, tools.');
    case 'something-wrong':
      return one('wrong', '“Something is wrong”: the plug first.');
    case 'wrong-described': {
      const what = event.what === '' ? '' : ` ${event.what}`;
      return one('wrong', `What was noticed: ${listed(event.signs)}.${what}`);
    }
    case 'found-plugged-in':
      return one('stop', 'The amplifier was found plugged in although it should not have been.');
    default:
      return quietWords(event, source);
  }
}

/** The cause that was found, where it was one of those shown. */
function causeWords({ cause }: Extract<BuildEvent, { readonly kind: 'repaired' }>): string {
  if (cause === undefined) return '';
  const percent = Math.round(100 * cause.probability);
  return ` Cause found: ${cause.words} (shown with ${percent < 1 ? 'less than 1' : percent}\u202f%).`;
}

/** Where hands were at a repair; nothing for older journals, which do not say. */
function touchedWords(places: readonly string[] | undefined): string {
  if (places === undefined) return '';
  return places.length === 0 ? ' What was touched cannot be said.' : ` Touched: ${listed(places)}.`;
}

const beginnings = {
  'loose parts': 'Build begun from loose parts, never plugged in.',
  assembled: 'Begun with an amplifier that was assembled elsewhere.',
  'old record': 'Begun from an old record.',
} as const;

function quietWords(event: BuildEvent, source: ReportSource): readonly Line[] {
  switch (event.kind) {
    case 'step-done':
      return one('step', `Done: ${stepTitle(source, event.step)}.`);
    case 'step-reopened':
      return one('step', `Reopened: ${stepTitle(source, event.step)}. ${event.why}`);
    case 'fuse-read':
      return one('fuse', `${event.part} reads ${event.speed} ${formatQuantity(event.amps, 'A')}.`);
    case 'fuse-replaced':
      return one('fuse', `${event.part} replaced by ${event.speed} ${formatQuantity(event.amps, 'A')}.`);
    case 'fuse-sides-looked': {
      const sides = `${formatQuantity(event.aVolts, 'V')} and ${formatQuantity(event.bVolts, 'V')}`;
      return one('fuse', `Both sides of ${event.part} measured: ${sides}.`);
    }
    case 'clip-fitted':
      return one('look', `Discharge clip of ${formatQuantity(event.ohms, 'Ω')} fitted to ${event.store}.`);
    case 'clip-removed':
      return one('look', `Discharge clip taken off ${event.store}.`);
    case 'meter-shown-to-work':
      return one('look', `Meter shown to work: ${formatQuantity(event.volts, 'V')} on the battery.`);
    case 'look-checked':
      return one('look', `${event.store}: place, DC function, range, hold and leads checked.`);
    case 'valve-removed':
      return one('valve', `Valve taken out of ${event.socket}.`);
    case 'part-differs':
      return one('note', `${partName(source, event.part)}: ${event.how}. ${event.what}`);
    case 'place-measured':
      return one(
        'finding',
        `Looking for the fault: ${event.at} to ${event.against}, ${entryWords(event.entry, 'Ω')}.`,
      );
    case 'note-written':
      return one('note', `Note: ${event.text}`);
    case 'kit-changed':
      return one(
        'kit-change',
        `Revision ${event.revision} of the kit taken over; ${counted(event.reopenedSteps.length, 'step')} reopened.`,
      );
    case 'signed':
      return one('sign', `Signed by ${event.name}`);
    default:
      return [];
  }
}

function one(kind: StoryKind, text: string): readonly Line[] {
  return [{ kind, text }];
}

function readingLines(
  { seq }: JournalEntry,
  event: Extract<BuildEvent, { readonly kind: 'reading-entered' }>,
  source: ReportSource,
): readonly Line[] {
  const unit = source.kit.readings.find((each) => each.id === event.reading)?.unit ?? '';
  const entries = source.build.readings[event.reading]?.entries ?? [];
  const index = entries.findIndex((each) => each.seq === seq);
  const verdict = entries[index]?.verdict ?? event.verdict;
  const before = entries[index - 1]?.verdict;
  const isSettling = before === 'stop' || before === 'out of band';
  const again = isSettling ? ', read again' : '';
  const title = readingTitle(source, event.reading);
  const from = event.instrument === undefined ? '' : ' taken from the instrument';
  const text = `${title}${again}: ${entryWords(event.entry, unit)}${from}, ${verdict}.`;
  if (verdict === 'stop') return one('stop', `${text} The only thing left to do: pull the plug.`);
  return one(verdict === 'out of band' || isSettling ? 'finding' : 'reading', text);
}

/** How long the plug was in, and what was read in that time. */
function plugOutText({ seq, run, tick }: JournalEntry, source: ReportSource): string {
  const { build, entries } = source;
  const plugIn = build.plugIns.findLast((each) => each.seq < seq);
  const isOut = build.drains.some((drain) => drain.seq === seq && drain.why === 'plug pulled');
  if (plugIn === undefined || !isOut) return 'Plug confirmed out and in sight.';
  const began = entries.find((each) => each.seq === plugIn.seq);
  const after = began?.run === run ? ` after ${duration((tick - began.tick) / 1000)}` : '';
  const taken = Object.values(build.readings)
    .flatMap((record) => record.entries)
    .filter((each) => each.seq > plugIn.seq && each.seq < seq);
  return `Plug out and in sight${after}. ${takenText(taken.map(({ verdict }) => verdict))}`;
}

function takenText(verdicts: readonly string[]): string {
  if (verdicts.length === 0) return 'No readings taken.';
  const kinds = [...new Set(verdicts)].map((verdict) => {
    const count = verdicts.filter((each) => each === verdict).length;
    return kindsWords(verdict, count, verdicts.length);
  });
  return `${counted(verdicts.length, 'reading')} taken: ${listed(kinds)}.`;
}

function kindsWords(verdict: string, count: number, all: number): string {
  return count === all ? (all > 1 ? `all ${verdict}` : verdict) : `${count} ${verdict}`;
}

function lookText(
  { at }: JournalEntry,
  event: Extract<BuildEvent, { readonly kind: 'store-look' }>,
  { build }: ReportSource,
): string {
  const look = build.drains
    .flatMap(({ looks }) => looks)
    .find((each) => each.at === at && each.store === event.store);
  const when = look?.seconds == null ? '' : `, ${duration(look.seconds)} after the plug`;
  return `${event.store}: ${formatQuantity(Math.abs(event.volts), 'V')}${when}.`;
}
