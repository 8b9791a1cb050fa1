/**
 * Cuts a stream of text into JSON values, one a line.
 *
 * Lines may arrive in pieces; a line that is not JSON is left out, because the next heartbeat follows anyway.
 *
 * @param take Receives each value.
 * @returns A function to feed with pieces of text.
 */
export function jsonLines(take: (value: unknown) => void): (piece: string) => void {
  let rest = '';
  return (piece) => {
    const lines = (rest + piece).split('\n');
    rest = lines.pop() ?? '';
    for (const line of lines) {
      const value = parse(line);
      if (value !== undefined) take(value);
    }
  };
}

function parse(line: string): unknown {
  if (line.trim() === '') return undefined;
  try {
    return JSON.parse(line) as unknown;
  } catch {
    return undefined;
  }
}
