import type { DrainRecord } from '../journal/build-state.ts';
import type { JournalEntry } from '../journal/journal-entry.ts';
import { isJournalEntry } from '../journal/parse-journal.ts';
import type { EnergyState } from '../safety/energy-state.ts';
import type { ReportSource } from './report-source.ts';
import type { StoryLine } from './story-line.ts';
import { eventWords } from './story-words.ts';
import { listed } from './words.ts';

/**
 * A build told from its journal, entry by entry.
 *
 * Verdicts and energy states are those of the record, found when the entries were written: they are not judged
 * again here. Entries of a kind that this version does not know are passed over. An entry may give more than
 * one line: the amplifier is proven by a look, or has lapsed while nobody was there.
 */
export function tellStory(source: ReportSource): readonly StoryLine[] {
  let energy: EnergyState['kind'] = source.build.startedFrom === 'loose parts' ? 'dead' : 'draining';
  const known = { ...source, entries: source.entries.filter(isJournalEntry) };
  return known.entries.flatMap((entry) => {
    energy = energyAfter(entry, energy, known);
    const state = energy;
    const { seq, at } = entry;
    return linesOf(entry, known).map((line) => ({ seq, at, energy: state, ...line }));
  });
}

type Line = Pick<StoryLine, 'kind' | 'text'>;

/** What the amplifier counted as after an entry, by the record; a refused plug-in ends what was proven. */
function energyAfter(
  { seq, event }: JournalEntry,
  before: EnergyState['kind'],
  { build }: ReportSource,
): EnergyState['kind'] {
  if (build.refusedEntries.includes(seq)) return event.kind === 'plugged-in' ? 'draining' : before;
  if (build.drains.some(({ provenSeq }) => provenSeq === seq)) return 'dead';
  if (build.plugIns.some((plugIn) => plugIn.seq === seq)) return 'live';
  return build.drains.some((drain) => drain.seq === seq) ? 'draining' : before;
}

function linesOf(entry: JournalEntry, source: ReportSource): readonly Line[] {
  const { build } = source;
  const { seq, event } = entry;
  if (build.refusedEntries.includes(seq)) {
    const text = `Entry ${seq} (${event.kind}) is not one that the rules allow here: it comes from outside the app or from another version of it, and opens nothing.`;
    return [{ kind: 'refused', text }];
  }
  const lapsed = build.drains.filter((drain) => drain.seq === seq).flatMap(lapseLines);
  const proven = build.drains.filter(({ provenSeq }) => provenSeq === seq);
  if (event.kind === 'run-started' && lapsed.length > 0) return lapsed;
  return [...lapsed, ...eventWords(entry, source), ...proven.map((drain) => provenLine(drain, source))];
}

const lapseReasons: Readonly<Partial<Record<string, string>>> = {
  closed: 'The app had been closed',
  'asleep or clock set': 'The computer had slept, or its clock was set',
  idle: 'Nothing had happened for an hour',
  'charge found': 'A charge was found',
  'clip off early': 'A discharge clip came off before its minute was over',
  'found plugged in': 'The amplifier was found plugged in',
  'kit changed': 'The kit was changed',
  'journal broken': 'The journal was not whole',
};

/** The amplifier stopped being proven, or its time became unknown, without the plug being pulled. */
function lapseLines({ why }: DrainRecord): readonly Line[] {
  const reason = lapseReasons[why];
  if (reason === undefined) return [];
  const text = `${reason}: from here it counted as draining, since an unknown time, until measured again.`;
  return [{ kind: 'lapse', text }];
}

function provenLine(drain: DrainRecord, { facts }: ReportSource): Line {
  const parts = facts.stores.map(({ part }) => part);
  const clipped = parts.filter((part) => drain.clips.some(({ store }) => store === part));
  const clips = clipped.length === 0 ? '' : `, with a discharge clip on ${listed(clipped)}`;
  const text = `Proven dead: ${listed(parts)} measured below ${facts.safeVolts} V, and again a minute later${clips}.`;
  return { kind: 'proven', text };
}
