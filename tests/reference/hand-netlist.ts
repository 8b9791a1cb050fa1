import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** What of a netlist that was written by hand is to be another. */
export interface HandEdits {
  /** Name of the file beside this one. */
  readonly file: string;
  /** Lines that begin a `.param` line of the file, and what stands there instead. */
  readonly parameters?: Readonly<Record<string, string>>;
  /** Lines in the place of the supply; `cold` is what the file has for the plug out, null keeps it. */
  readonly supply?: readonly string[] | 'cold' | null;
  /** A block of the file, by the word behind `begin`, and the word before the lines that stand there instead. */
  readonly variant?: readonly [block: string, by: string];
  /** Lines that are left out: valves that are not fitted, a source where nothing is connected. */
  readonly without?: RegExp;
  /** Options, initial conditions and what to run. */
  readonly commands: readonly string[];
}

/**
 * A netlist that was written by hand, with other values, another supply or another run where asked.
 *
 * Every place and inner node of the amplifier that is a pin or tag gets 1e12 Ω to the chassis, as every net has in the solver.
 */
export function editHandNetlist(edits: HandEdits): string {
  const { file, parameters, supply, variant, without, commands } = edits;
  let text = readFileSync(fileURLToPath(new URL(file, import.meta.url)), 'utf8');
  const exchange = (pattern: RegExp, by: string): void => {
    if (!pattern.test(text)) throw new Error(`${file} has no ${pattern}`);
    text = text.replace(pattern, by);
  };
  for (const [begin, by] of Object.entries(parameters ?? {})) {
    exchange(new RegExp(`^\\.param ${begin}\\b.*$`, 'm'), `.param ${by}`);
  }
  const exchangeBlock = (block: string, by: string): void =>
    exchange(new RegExp(`^\\* begin ${block}$[^]*?^\\* end ${block}$`, 'm'), by);
  const uncover = (word: string): void => {
    exchange(new RegExp(`^\\*${word} `, 'm'), `*${word} `);
    text = text.replaceAll(new RegExp(`^\\*${word} `, 'gm'), '');
  };
  if (supply === 'cold') {
    exchangeBlock('supply', '');
    uncover('cold');
  } else if (supply) exchangeBlock('supply', supply.join('\n'));
  if (variant) {
    exchangeBlock(variant[0], '');
    uncover(variant[1]);
  }
  exchange(/^\* begin run$[^]*/m, '');
  if (without) {
    const lines = text.split('\n');
    const kept = lines.filter((line) => !without.test(line));
    if (kept.length === lines.length) throw new Error(`${file} has nothing that ${without} leaves out`);
    text = kept.join('\n');
  }
  const lines = text.split('\n').filter((line) => !line.startsWith('*'));
  const words = lines.join(' ').split(/\s+/);
  const nodes = words.filter((word) => placeOfNode(word) !== null);
  const shunts = [...new Set(nodes)].map((node) => `Rgmin_${node} ${node} 0 1e12`);
  return [text, ...shunts, ...commands, '.end', ''].join('\n');
}

/** How the netlist of Heron is to be run. */
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

/** The netlist of Heron that was written by hand, with another value, supply or run where asked. */
export function handNetlist({ mains, volume, reservoirVolts, commands }: HandRun): string {
  const is120 = mains === '120 V 60 Hz';
  return editHandNetlist({
    file: 'heron-by-hand.cir',
    parameters: {
      vmains: is120 ? 'vmains=120 fmains=60 rprimary=7.6' : 'vmains=230 fmains=50 rprimary=28',
      volume: `volume=${volume}`,
    },
    supply: reservoirVolts === null ? null : [`Vb1 ts1_3 0 DC ${reservoirVolts}`],
    commands,
  });
}

/**
 * Nodes of a netlist written by hand that are a place of the kit: `ts1_3` is TS1.3, `j2_hot` J2.hot,
 * `v1left_7` V1-left.7, `inlet_line` inlet.line; null for the others.
 */
export function placeOfNode(node: string): string | null {
  const [, inlet] = /^inlet_(\w+)$/.exec(node) ?? [];
  if (inlet !== undefined) return `inlet.${inlet}`;
  // The taps of a push-pull primary.
  const [, transformer, tap] = /^(t\d+)_tap([ab])$/.exec(node) ?? [];
  if (transformer !== undefined) return `${transformer.toUpperCase()}.primary.tap-${tap}`;
  const [, part, channel, end] = /^((?:ts|v|j|p)\d+)(left|right)?_(\w+)$/.exec(node) ?? [];
  if (part === undefined) return null;
  return `${part.toUpperCase()}${channel === undefined ? '' : `-${channel}`}.${end}`;
}
