import { writeFileSync } from 'node:fs';
import { kitJsonSchemaText } from '../../shared-core/kit/schema/kit-json-schema.ts';

// Run by `npm run schema` from the repository's root; a test says when it is due.
writeFileSync('kits/kit.schema.json', kitJsonSchemaText());
