import { z } from 'zod';
import type { BuildEvent } from '../journal/build-event.ts';
import { isBuildEvent } from '../journal/event-shapes.ts';
import type { Arguments, BlobName, Blobs, BuilderAction, CallName } from './calls.ts';

/**
 * The shape of every call's and blob's arguments, checked before anything else looks at them.
 *
 * The host runs these; the screen takes their types only.
 */

const name = z.string().min(1).max(200);
const path = z.string().min(1).max(4096);
const build = z.uuid().toLowerCase();
const finite = z.number();
const choices = z.record(name, z.string().max(200));

/** Longest text that a builder may write into one entry. */
const longestText = 20_000;

const benchSchema = z.strictObject({
  mains: z.strictObject({ volts: finite, hertz: finite, source: z.enum(['measured', 'assumed']) }),
  meter: z.strictObject({
    label: z.string().max(200),
    input: z.discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('fixed'), ohms: finite }),
      z.strictObject({ kind: z.literal('per-volt'), ohmsPerVolt: finite }),
    ]),
    accuracy: z.strictObject({ dcVolts: finite, acVolts: finite, ohms: finite }),
    ratedVolts: finite,
    category: z.enum(['none', 'CAT II', 'CAT III', 'CAT IV']),
  }),
  leads: z.strictObject({ ratedVolts: finite, ohms: finite }),
  lampWatts: finite.nullable(),
  batteryVolts: finite.nullable(),
  hasInsulationTester: z.boolean(),
});

const settingsSchema = z
  .strictObject({
    textSize: finite.min(0.5).max(4),
    theme: z.enum(['as the system', 'light', 'dark']),
    motion: z.enum(['as the system', 'reduced']),
    shelf: z.array(path).max(100),
    bench: benchSchema.nullable(),
  })
  .partial();

/** Events that only the host itself writes. */
const hostOnly: ReadonlySet<string> = new Set([
  'run-started',
  'heartbeat',
  'journal-cut',
  'build-started',
  'reading-entered',
  'band-shown',
  'photo-added',
  'kit-changed',
  'exported',
]);

const enterReading = z.strictObject({
  kind: z.literal('enter-reading'),
  reading: name,
  typed: z.string().max(100),
  by: z.enum(['hand', 'voice', 'foot', 'repeat', 'instrument']),
  corrects: z.int().min(1).nullable(),
});

const eventOfBuilder = z.custom<Exclude<BuilderAction, { kind: 'enter-reading' }>>(
  (value) =>
    isBuildEvent(value) && !hostOnly.has(value.kind) && !hasLongText(value) && !isRepairWithoutPlaces(value),
);

const action: z.ZodType<BuilderAction> = z.union([enterReading, eventOfBuilder]);

/** Only older journals hold a repair that does not say where hands were. */
function isRepairWithoutPlaces(event: BuildEvent): boolean {
  return event.kind === 'repaired' && event.places === undefined;
}

function hasLongText(value: object): boolean {
  return Object.values(value).some((member) => typeof member === 'string' && member.length > longestText);
}

/** What each call must be given. */
export const callSchemas = {
  'app.hello': z.strictObject({}),
  'kit.open': z.strictObject({ path }),
  'build.start': z.strictObject({
    path,
    choices,
    startedFrom: z.enum(['loose parts', 'assembled', 'old record']),
  }),
  'build.open': z.strictObject({ build }),
  'build.act': z.strictObject({ build, expectedSeq: z.int().min(0), action }),
  'predict.condition': z.strictObject({ build, condition: name }),
  'record.open': z.strictObject({ text: z.string() }),
  'settings.get': z.strictObject({}),
  'settings.set': z.strictObject({ settings: settingsSchema }),
} satisfies { readonly [Name in CallName]: z.ZodType<Arguments<Name>> };

/** What each blob must be given. */
export const blobSchemas = {
  report: z.strictObject({ build }),
  record: z.strictObject({ build }),
  picture: z.strictObject({ build, path: z.string().min(1).max(500) }),
  'record-report': z.strictObject({ text: z.string() }),
} satisfies { readonly [Name in BlobName]: z.ZodType<Blobs[Name]> };
