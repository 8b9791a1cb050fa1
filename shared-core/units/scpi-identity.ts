/** Who an instrument says it is. */
export interface ScpiIdentity {
  readonly maker: string;
  readonly model: string;
  readonly serial: string;
  readonly firmware: string;
}

/** Longest identity that is taken, in characters: IEEE 488.2, 10.14 allows 72. A generous bound of our own. */
const longest = 200;

/**
 * Reads the answer to `*IDN?`: maker, model, serial number and firmware, with commas between (IEEE 488.2, 10.14).
 *
 * @returns null for anything else; what is not printable ASCII is none.
 */
export function readScpiIdentity(answer: string): ScpiIdentity | null {
  const text = answer.trim();
  if (text.length > longest || !/^[\x20-\x7e]+$/.test(text)) return null;
  const [maker = '', model = '', serial = '', ...rest] = text.split(',').map((field) => field.trim());
  if (rest.length === 0 || maker === '' || model === '') return null;
  return { maker, model, serial, firmware: rest.join(',') };
}

/** An instrument's name for people: "Larkfield DM-1, serial 1024". A serial number of 0 is none (IEEE 488.2). */
export function instrumentName({ maker, model, serial }: ScpiIdentity): string {
  const name = `${maker} ${model}`;
  return serial === '' || serial === '0' ? name : `${name}, serial ${serial}`;
}
