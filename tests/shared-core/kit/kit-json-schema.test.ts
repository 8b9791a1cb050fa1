import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { kitJsonSchemaText } from '../../../shared-core/kit/schema/kit-json-schema.ts';

const committed = readFileSync(new URL('../../../kits/kit.schema.json', import.meta.url), 'utf8');

describe('kits/kit.schema.json', () => {
  test('is current: run "npm run schema" after a change of the kit file', () => {
    expect(committed).toBe(kitJsonSchemaText());
  });

  test('offers every kind of part and refuses unknown keys', () => {
    const schema = JSON.parse(committed) as { additionalProperties: boolean; required: string[] };
    expect(schema.additionalProperties).toBe(false);
    expect(schema.required).toContain('chapters');
    for (const kind of ['resistor', 'valve', 'mains-transformer', 'tag-strip', 'hardware']) {
      expect(committed).toContain(`"const": "${kind}"`);
    }
  });
});
