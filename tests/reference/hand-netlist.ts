import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const path = fileURLToPath(new URL('heron-by-hand.cir', import.meta.url));

/** How the netlist that was written by hand is to be run. */
export interface HandRun {
  /** `230 V 50 Hz` as the file has it, or `120 V 60 Hz`. */
  readonly mains: string;
  /** Position of the volume control, 0 to 1. */
  readonly volume: number;
  /** A source in the place of transformer, rectifier and heaters, in volts (V); null keeps them. */
  readonly reservoirVolts: number | null;
  /** Options, initial conditions and what to run. */
  readonly commands: readonly string[];
}

/**
 * The netlist of Heron that was written by hand, with another value, supply or run where asked.
 *
 * Every pin and tag gets 1e12 Ω to the chassis, as every net has in the solver.
 */
export function handNetlist({ mains, volume, reservoirVolts, commands }: HandRun): string {
  let text = readFileSync(path, 'utf8');
  const exchange = (pattern: RegExp, by: string): void => {
    if (!pattern.test(text)) throw new Error(`heron-by-hand.cir has no ${pattern}`);
    text = text.replace(pattern, by);
  };
  if (mains === '120 V 60 Hz') {
    exchange(/^\.param vmains=.*$/m, '.param vmains=120 fmains=60 rprimary=7.6');
  } else exchange(/^\.param vmains=230 fmains=50 rprimary=28$/m, '$&');
  exchange(/^\.param volume=0$/m, `.param volume=${volume}`);
  if (reservoirVolts !== null) {
    exchange(/^\* begin supply$[^]*^\* end supply$/m, `Vb1 ts1_3 0 DC ${reservoirVolts}`);
  }
  exchange(/^\* begin run$[^]*/m, '');
  const words = text.split(/\s+/).filter((word) => placeOfNode(word) !== null);
  const shunts = [...new Set(words)].map((node) => `Rgmin_${node} ${node} 0 1e12`);
  return [text, ...shunts, ...commands, '.end', ''].join('\n');
}

/** Nodes of the netlist written by hand that are a place of the kit: `ts1_3` is TS1.3, `j2_hot` is J2.hot. */
export function placeOfNode(node: string): string | null {
  const [, part, end] = /^((?:ts|v|j)\d)_(\w+)$/.exec(node) ?? [];
  return part === undefined ? null : `${part.toUpperCase()}.${end}`;
}
