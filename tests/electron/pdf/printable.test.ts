import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { printable } from '../../../electron/pdf/printable.ts';
import { breakLines } from '../../../electron/pdf/sheet.ts';

describe('printable', () => {
  it('leaves alone what the font has', () => {
    expect(printable('4.7 kΩ ± 5 %', () => true)).toEqual({ text: '4.7 kΩ ± 5 %', missing: [] });
  });

  it('turns line breaks into spaces and drops marks that turn the direction of writing', () => {
    expect(printable('one\ntwo\u202Ethree', () => true).text).toBe('one twothree');
  });

  it('names what the font lacks, also half a surrogate pair', () => {
    const result = printable('a😀\uD800', (codePoint) => codePoint < 0x80);
    expect(result).toEqual({ text: 'a[U+1F600][U+D800]', missing: ['😀', '\uD800'] });
  });
});

describe('breakLines', () => {
  it('keeps every word in order, and no line wider than the place', () => {
    const words = fc.array(fc.stringMatching(/^[a-z]{1,30}$/), { maxLength: 40 });
    fc.assert(
      fc.property(words, fc.integer({ min: 3, max: 40 }), (list, width) => {
        const lines = breakLines(list.join(' '), width, (part) => part.length);
        expect(lines.join('').replaceAll(' ', '')).toBe(list.join(''));
        for (const line of lines) expect(line.length).toBeLessThanOrEqual(width);
      }),
    );
  });
});
