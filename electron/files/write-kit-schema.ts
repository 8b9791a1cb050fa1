import { writeFileSync } from 'node:fs';
import { kitJsonSchemaText } from '../../shared-core/kit/schema/kit-json-schema.ts';

/** Writes `kits/kit.schema.json`, from the repository's root; a test says when it is due. */
export function main(): number {
  writeFileSync('kits/kit.schema.json', kitJsonSchemaText());
  return 0;
}
