import { z } from 'zod';
import { kitFileSchema } from './kit-file.ts';

/**
 * The text of `kits/kit.schema.json`: what an editor needs to complete and check a kit file.
 *
 * It describes the file as written, before values are turned into SI units. JSON Schema, draft 2020-12.
 */
export function kitJsonSchemaText(): string {
  const schema = z.toJSONSchema(kitFileSchema, { io: 'input' });
  return `${JSON.stringify(schema, null, 2)}\n`;
}
