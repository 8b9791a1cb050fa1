import type { BuildState } from './build-state.ts';
import type { JournalEntry } from './journal-entry.ts';

/** What is simply noted down, in the order it came. */
export function foldRecords(build: BuildState, { event, at }: JournalEntry): BuildState {
  switch (event.kind) {
    case 'bench-recorded':
      return { ...build, bench: event.bench };
    case 'declared-assembled':
      return { ...build, declared: true };
    case 'caution-acknowledged':
      return { ...build, cautions: [...build.cautions, { caution: event.caution, text: event.text, at }] };
    case 'insulation-not-tested':
      return { ...build, insulationNotTested: true };
    case 'probe-style-chosen':
      return { ...build, probeStyle: event.style };
    case 'fuse-read':
    case 'fuse-replaced': {
      const what = event.kind === 'fuse-read' ? ('read back' as const) : ('replaced' as const);
      const { part, amps, speed } = event;
      return { ...build, fuses: [...build.fuses, { part, at, what, amps, speed }] };
    }
    case 'repaired':
      return {
        ...build,
        repairs: [
          ...build.repairs,
          {
            ...{ at, what: event.what, readings: event.readings, places: event.places ?? [] },
            ...(event.cause === undefined ? {} : { cause: event.cause }),
          },
        ],
      };
    case 'work-inside':
      return {
        ...build,
        repairs: [...build.repairs, { at, what: event.what, readings: [], places: event.places }],
      };
    case 'wrong-described':
      return { ...build, wrongs: [...build.wrongs, { at, signs: event.signs, what: event.what }] };
    case 'valve-fitted': {
      const { type, brand, dateCode, stock, label, socket } = event;
      return {
        ...build,
        valves: { ...build.valves, [socket]: { type, brand, dateCode, stock, label } },
        fitted: { ...build.fitted, valves: { ...build.fitted.valves, [socket]: type } },
      };
    }
    case 'valve-removed':
      return {
        ...build,
        valves: without(build.valves, event.socket),
        fitted: { ...build.fitted, valves: without(build.fitted.valves, event.socket) },
      };
    case 'part-measured':
      return {
        ...build,
        fitted: { ...build.fitted, measured: { ...build.fitted.measured, [event.part]: event.value } },
      };
    case 'part-differs':
      return {
        ...build,
        differing: { ...build.differing, [event.part]: { how: event.how, what: event.what } },
      };
    case 'place-measured': {
      const { reading, at: place, against, entry, typed } = event;
      const measured = { reading, at: place, against, entry, typed, time: at };
      return { ...build, measuredPlaces: [...(build.measuredPlaces ?? []), measured] };
    }
    case 'note-written':
      return { ...build, notes: [...build.notes, { about: event.about, text: event.text, at }] };
    case 'day-one-taken':
      return { ...build, dayOne: { record: event.record, at: event.at, readings: event.readings } };
    case 'photo-added': {
      const { about, file, sha256, caption } = event;
      return { ...build, photos: [...build.photos, { about, text: caption, at, file, sha256 }] };
    }
    case 'kit-changed': {
      const { revision, kitHash, reopenedSteps } = event;
      return {
        ...build,
        revision,
        kitHash,
        kitChanges: [...build.kitChanges, { at, revision, kitHash, reopenedSteps }],
      };
    }
    case 'signed':
      return { ...build, signature: { name: event.name, at } };
    default:
      return build;
  }
}

function without<Value>(
  record: Readonly<Record<string, Value>>,
  key: string,
): Readonly<Record<string, Value>> {
  return Object.fromEntries(Object.entries(record).filter(([each]) => each !== key));
}
