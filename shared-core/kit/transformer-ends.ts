import type { MainsTransformerPart, TransformerWinding } from './kit.ts';

/** An end of a tapped primary, with the volts that belong there counted from `primary.a`, rms (V). */
export interface PrimaryEnd {
  readonly end: string;
  readonly volts: number;
}

/** The ends of a mains primary in the order of their turns: `a` at 0, taps and `b` by their volts. */
export function primaryEndsOf({ primary }: MainsTransformerPart): readonly PrimaryEnd[] {
  const taps = (primary.taps ?? []).map((volts) => ({ end: `primary.${volts}`, volts }));
  const ends = [{ end: 'primary.a', volts: 0 }, { end: 'primary.b', volts: primary.volts }, ...taps];
  return ends.sort((one, other) => one.volts - other.volts);
}

/** The ends of a winding in the order of its turns: `a`, `tap`, `ct`, `b` as far as it has them. */
export function windingEndsOf({ name, centreTapped, tapVolts }: TransformerWinding): readonly string[] {
  const inner = [...(tapVolts === undefined ? [] : ['tap']), ...(centreTapped ? ['ct'] : [])];
  return ['a', ...inner, 'b'].map((end) => `${name}.${end}`);
}

/** The part of a primary that lies between two nets. */
export interface PrimaryInUse {
  /** In volts rms (V): what this many turns are made for. */
  readonly volts: number;
}

/** What of a primary is wired to the mains; null where not both of its sides are. */
export function primaryInUse(
  part: MainsTransformerPart,
  netAt: (place: string) => string,
  line: string,
  neutral: string,
): PrimaryInUse | null {
  if (line === neutral) return null;
  const on = (net: string): readonly number[] =>
    primaryEndsOf(part)
      .filter(({ end }) => netAt(`${part.id}.${end}`) === net)
      .map(({ volts }) => volts);
  const [ofLine, ofNeutral] = [on(line), on(neutral)];
  const pairs = ofLine.flatMap((one) => ofNeutral.map((other) => Math.abs(one - other)));
  return pairs.length > 0 ? { volts: Math.max(...pairs) } : null;
}
