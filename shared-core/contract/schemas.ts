import { z } from 'zod';
import type { BuildEvent } from '../journal/build-event.ts';
import { isBuildEvent } from '../journal/event-shapes.ts';
import { serialFrames } from './instrument.ts';
import type { Arguments, BlobName, Blobs, BuilderAction, CallName } from './calls.ts';
import { footKeyFault } from './settings.ts';

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
    ohmsTest: z.strictObject({ volts: finite, plusOn: z.enum(['red', 'black']) }).optional(),
  }),
  leads: z.strictObject({ ratedVolts: finite, ohms: finite }),
  lampWatts: finite.nullable(),
  batteryVolts: finite.nullable(),
  hasInsulationTester: z.boolean(),
});

const identity = z.string().min(1).max(200);

const addressSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('tcp'),
    // A host name or a numeric address (RFC 1123, RFC 4291): letters, digits, dots, hyphens, colons.
    host: z.string().regex(/^[A-Za-z0-9.:-]{1,253}$/),
    port: z.int().min(1).max(65_535),
  }),
  z.strictObject({
    kind: z.literal('serial'),
    // A device, never any other file.
    path: z
      .string()
      .regex(/^(\/dev\/[\w./-]{1,200}|COM\d{1,3})$/)
      .refine((text) => !text.includes('..')),
    baudRate: z.int().min(300).max(1_000_000).nullable(),
    frame: z.enum(serialFrames),
  }),
]);

const knownInstrument = z.strictObject({
  address: addressSchema,
  identity,
  name,
  isolated: z.boolean(),
  earthVolts: finite.min(0).max(100_000),
});

const settingsSchema = z
  .strictObject({
    textSize: finite.min(0.5).max(4),
    theme: z.enum(['as the system', 'light', 'dark']),
    motion: z.enum(['as the system', 'reduced']),
    contrast: z.enum(['as the system', 'more']),
    sound: z.enum(['on', 'off']),
    speech: z.enum(['on', 'off']),
    footKey: z
      .string()
      .refine((key) => footKeyFault(key) === null)
      .nullable(),
    shelf: z.array(path).max(100),
    bench: benchSchema.nullable(),
    instruments: z.array(knownInstrument).max(20),
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
  'day-one-taken',
  'kit-changed',
  'exported',
]);

const enterReading = z.strictObject({
  kind: z.literal('enter-reading'),
  reading: name,
  typed: z.string().max(100),
  by: z.enum(['hand', 'voice', 'foot', 'repeat', 'instrument']),
  corrects: z.int().min(1).nullable(),
  instrument: z
    .strictObject({
      instrument: identity,
      reply: z.string().max(100),
      function: z.string().max(100),
      range: finite.nullable(),
    })
    .optional(),
});

const acceptKit = z.strictObject({
  kind: z.literal('accept-kit'),
  kitHash: z.string().regex(/^[0-9a-f]{64}$/),
  by: z.enum(['hand', 'voice', 'foot', 'repeat', 'instrument']),
});

const eventOfBuilder = z.custom<Exclude<BuilderAction, { kind: 'enter-reading' | 'accept-kit' }>>(
  (value) =>
    isBuildEvent(value) && !hostOnly.has(value.kind) && !hasLongText(value) && !isRepairWithoutPlaces(value),
);

const action: z.ZodType<BuilderAction> = z.union([enterReading, acceptKit, eventOfBuilder]);

/** Only older journals hold a repair that does not say where hands were. */
function isRepairWithoutPlaces(event: BuildEvent): boolean {
  return event.kind === 'repaired' && event.places === undefined;
}

function hasLongText(value: object): boolean {
  return Object.values(value).some((member) => typeof member === 'string' && member.length > longestText);
}

const photoFile = z.string().regex(/^[0-9a-f]{64}\.(jpg|png)$/);

/** What of a build goes along: more notes or photos than any build has. */
const choice = {
  notes: z.array(z.int().min(0)).max(10_000).optional(),
  photos: z.array(photoFile).max(1000).optional(),
};

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
  'photo.add': z.strictObject({
    build,
    expectedSeq: z.int().min(0),
    photo: z.strictObject({
      about: name.nullable(),
      caption: z.string().max(500),
      base64: z.base64().max(10_000_000),
    }),
    by: z.enum(['hand', 'voice', 'foot', 'repeat', 'instrument']),
  }),
  'paper.pages': z.strictObject({
    paper: z.discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('report'), build, ...choice }),
      z.strictObject({ kind: z.literal('bench-card'), build }),
      z.strictObject({ kind: z.literal('record-report'), text: z.string() }),
    ]),
  }),
  'predict.condition': z.strictObject({ build, condition: name }),
  'predict.together': z.strictObject({ build }),
  'predict.adjuster': z.strictObject({ build, reading: name }),
  'explain.readings': z.strictObject({ build, without: z.array(name).max(500) }),
  'instrument.ports': z.strictObject({}),
  'instrument.find': z.strictObject({ address: addressSchema }),
  'instrument.look': z.strictObject({ build, reading: name, identity }),
  'fit.valves': z.strictObject({
    subject: z.discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('kit'), path, choices }),
      z.strictObject({ kind: z.literal('build'), build }),
    ]),
    // As many as a kit may have sockets.
    valves: z.record(name, name).refine((valves) => Object.keys(valves).length <= 100),
  }),
  'practice.start': z.strictObject({ path, choices }),
  'practice.skip': z.strictObject({ build, seconds: finite.min(0).max(3600) }),
  'practice.meter': z.strictObject({
    build,
    at: z.strictObject({ kind: z.enum(['reading', 'store']), id: name }),
  }),
  'service.start': z.strictObject({ text: z.string() }),
  'record.open': z.strictObject({ text: z.string() }),
  'settings.get': z.strictObject({}),
  'settings.set': z.strictObject({ settings: settingsSchema }),
} satisfies { readonly [Name in CallName]: z.ZodType<Arguments<Name>> };

/** What each blob must be given. */
export const blobSchemas = {
  report: z.strictObject({ build, ...choice }),
  record: z.strictObject({
    build,
    photos: choice.photos,
    question: z
      .strictObject({
        about: name.nullable(),
        text: z.string().min(1).max(longestText),
        photos: z.array(photoFile).max(1000),
      })
      .optional(),
  }),
  'bench-card': z.strictObject({ build }),
  photo: z.strictObject({ build, file: photoFile }),
  picture: z.strictObject({ build, path: z.string().min(1).max(500) }),
  'record-report': z.strictObject({ text: z.string() }),
} satisfies { readonly [Name in BlobName]: z.ZodType<Blobs[Name]> };
