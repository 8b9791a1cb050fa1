import type { InstrumentOutcome } from '../../shared-core/contract/calls.ts';
import type { MeterEntry } from '../../shared-core/bands/verdict.ts';
import type { Measure } from '../../shared-core/kit/kit.ts';
import type { KitProblem } from '../../shared-core/problem/problem.ts';
import type { ReadingEntered } from '../../shared-core/safety/events.ts';
import type { TakenFrom } from '../../shared-core/safety/instrument.ts';
import type { Refusal } from '../../shared-core/safety/refusal.ts';
import { refusals } from '../../shared-core/safety/safety.ts';
import { readMeterEntry } from '../../shared-core/units/meter-entry.ts';
import type { MeterFunction } from '../../shared-core/units/scpi-function.ts';
import { listSerialPorts } from '../instruments/open-serial.ts';
import type { BuildSession } from './build-session.ts';
import type { CallHandlers, ServiceContext } from './service-context.ts';

type InstrumentCalls = Pick<CallHandlers, 'instrument.ports' | 'instrument.find' | 'instrument.look'>;

/**
 * Instruments for the screens: found, and looked at.
 *
 * Nothing here writes to a journal. What an instrument shows goes to the screen, and counts when a hand has
 * entered it.
 */
export function instrumentHandlers({ shelf, settings, instruments }: ServiceContext): InstrumentCalls {
  return {
    'instrument.ports': () => listSerialPorts(),
    'instrument.find': ({ address }) => instruments.find(address),
    'instrument.look': async ({ build, reading, identity }) => {
      const session = await shelf.session(build);
      if (!session.ok) return { kind: 'problem', problems: session.problems };
      const asked = session.value.parts.source.chosen.readings.find(({ id }) => id === reading);
      const wanted = asked === undefined ? null : functionOf(asked.measure);
      if (wanted === null) return { kind: 'problem', problems: [notForMeters] };
      const known = settings.get().instruments.find((each) => each.identity === identity);
      if (known === undefined) return { kind: 'problem', problems: [notKnown] };
      // Before a word is sent: the rules say where an instrument may be.
      const nothing: TakenFrom = { instrument: identity, reply: '', function: '', range: null };
      const before = refusalsOf(session.value, reading, { kind: 'value', value: 0 }, nothing);
      if (before.length > 0) return { kind: 'refused', refusals: before };
      const look = await instruments.look(known, wanted);
      if (!look.ok) return { kind: 'problem', problems: look.problems };
      const { text, words, reply, setting } = look.value;
      const taken = { ...nothing, reply, function: setting.name, range: setting.range };
      return outcomeOf(session.value, reading, wanted, { kind: 'shows', text, words, taken });
    },
  };
}

/** Asks the rules again, now that the number is known: it may be above what the instrument is good for. */
function outcomeOf(
  session: BuildSession,
  reading: string,
  wanted: MeterFunction,
  shows: Extract<InstrumentOutcome, { kind: 'shows' }>,
): InstrumentOutcome {
  const read = readMeterEntry(shows.text, wanted === 'ohms' ? 'Ω' : 'V');
  if (!read.ok) return shows;
  const after = refusalsOf(session, reading, read.entry, shows.taken);
  return after.length > 0 ? { kind: 'refused', refusals: after } : shows;
}

function refusalsOf(
  { build, parts, currentFacts }: BuildSession,
  reading: string,
  entry: MeterEntry,
  instrument: TakenFrom,
): readonly Refusal[] {
  const event: ReadingEntered = {
    kind: 'reading-entered',
    by: 'hand',
    reading,
    entry,
    typed: '',
    verdict: 'not predicted',
    band: null,
    bandShownBefore: false,
    corrects: null,
    instrument,
  };
  return refusals(build.safety, event, parts.stamp(), currentFacts);
}

/** What a meter is set to for a reading; null for what is not read from one meter. */
function functionOf(measure: Measure): MeterFunction | null {
  return measure === 'dc volts' || measure === 'ac volts' || measure === 'ohms' ? measure : null;
}

const notForMeters: KitProblem = {
  code: 'call/arguments',
  severity: 'error',
  message: 'This reading is not taken with a meter on a cable',
  hint: 'Type it.',
};

const notKnown: KitProblem = {
  code: 'instrument/not-known',
  severity: 'error',
  message: 'This instrument is no longer in the settings',
  hint: 'Add it there again, or type the reading.',
};
