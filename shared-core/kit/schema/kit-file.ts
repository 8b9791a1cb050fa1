import { z } from 'zod';
import { place } from './fields.ts';
import { partSchemas } from './parts.ts';
import {
  chapterHeadSchema,
  chassisSchema,
  conditionSchema,
  headSchema,
  leadSchema,
  matchedSchema,
  optionSchema,
  positionSchema,
  readingSchema,
  stepSchema,
} from './sections.ts';
import { valveSchema } from './valves.ts';

const { resistor, ...otherParts } = partSchemas;
const part = z.discriminatedUnion('kind', [resistor, ...Object.values(otherParts)]);

/** One, or a list of variants of which `when` chooses. */
function variants<Item extends z.ZodType>(item: Item) {
  return z.union([item, z.array(item).min(1)]);
}

/**
 * The whole kit file, for editors: `kits/kit.schema.json` is made from it.
 *
 * The reader takes the same schemas item by item, so that one bad part does not hide the others.
 */
export const kitFileSchema = z
  .strictObject({
    format: z.literal('kitwright/1'),
    kit: headSchema,
    options: z.record(z.string(), optionSchema).optional(),
    chassis: chassisSchema,
    valves: z.record(z.string(), valveSchema).optional(),
    parts: z.record(z.string(), variants(part)),
    leads: z.record(z.string(), variants(leadSchema)).optional(),
    nets: z.record(z.string(), place),
    matched: matchedSchema.optional(),
    layout: z.record(z.string(), positionSchema).optional(),
    conditions: z.record(z.string(), variants(conditionSchema)),
    readings: z.record(z.string(), variants(readingSchema)),
    chapters: z.array(z.strictObject({ ...chapterHeadSchema.shape, steps: z.array(stepSchema) })),
  })
  .meta({ title: 'Kitwright kit file' });

/** The sections of a kit file, in their usual order. */
export const sectionNames = Object.keys(kitFileSchema.shape);

/** Sections that every kit file has. */
export const neededSections = [
  'format',
  'kit',
  'chassis',
  'parts',
  'nets',
  'conditions',
  'readings',
  'chapters',
];
