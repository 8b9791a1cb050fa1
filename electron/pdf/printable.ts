/** Text as it can be printed, and the characters that the fonts do not have. */
export interface Printable {
  readonly text: string;
  readonly missing: readonly string[];
}

/**
 * Makes text fit for the page.
 *
 * Control characters and the marks that turn the direction of writing become spaces or vanish; a character that
 * the font lacks becomes its name in brackets, `[U+4E2D]`, instead of an empty box that looks like damage.
 *
 * @param hasGlyph Whether the font can draw a code point.
 */
export function printable(text: string, hasGlyph: (codePoint: number) => boolean): Printable {
  const missing: string[] = [];
  let result = '';
  for (const character of text.normalize('NFC')) {
    const codePoint = character.codePointAt(0) ?? 0;
    if (/\p{Cf}/u.test(character)) continue;
    if (/[\p{Cc}\p{Zl}\p{Zp}]/u.test(character)) result += ' ';
    else if (/\p{Cs}/u.test(character) || !hasGlyph(codePoint)) {
      missing.push(character);
      result += glyphName(codePoint);
    } else result += character;
  }
  return { text: result, missing };
}

/** "U+4E2D" in brackets: Unicode's own way to name a character. */
export function glyphName(codePoint: number): string {
  return `[U+${codePoint.toString(16).toUpperCase().padStart(4, '0')}]`;
}
