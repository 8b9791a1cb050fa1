import type { Circuit, CircuitElement } from '../../shared-core/circuit/circuit.ts';
import { thermalVolts } from '../../shared-core/devices/junction.ts';
import { openSiemens } from '../../shared-core/devices/switch.ts';
import { trackPart } from '../../shared-core/devices/potentiometer.ts';
import { semiconductorWriters, typedTransistor } from './semiconductor-netlist.ts';
import { valveDevices, valveLines } from './valve-netlist.ts';

export interface NetlistOptions {
  /** From every net to the reference, in siemens (S): the same as the solver's. */
  readonly gminSiemens?: number;
  /** Elements written as a constant current into their first pin, in amperes (A): averaged supplies. */
  readonly asAmps?: Readonly<Record<string, number>>;
  /** Elements written as a voltage source `v<id>` from their first pin to their second, in volts (V). */
  readonly asVolts?: Readonly<Record<string, number>>;
  /** Voltages of capacitors at the start of a transient, by element id, in volts (V). */
  readonly startVolts?: Readonly<Record<string, number>>;
  /** Currents of inductors and of primaries at the start of a transient, by element id, in amperes (A). */
  readonly startAmps?: Readonly<Record<string, number>>;
  /** Bipolar transistors by their law typed in, not by the simulator's own model. */
  readonly typedTransistors?: boolean;
  /** Id of the voltage source that carries 1 V of small signal. */
  readonly movedSource?: string;
}

/** A netlist and the node that stands for each net. */
export interface Netlist {
  readonly text: string;
  readonly nodes: ReadonlyMap<string, string>;
}

/** Tolerances at which the reference simulator is trusted to 1e-6. */
export const referenceOptions = '.options reltol=1e-6 vntol=1e-8 abstol=1e-14 itl1=300 temp=27';

/**
 * Writes a circuit for the reference simulator, device by device, with laws typed in by hand.
 *
 * @param commands What to run: `.op`, `.ac …`.
 */
export function writeNetlist(
  { elements, reference }: Circuit,
  commands: readonly string[],
  options: NetlistOptions = {},
): Netlist {
  const nodes = new Map<string, string>([[reference, '0']]);
  for (const net of elements.flatMap((each) => each.nets)) {
    if (!nodes.has(net)) nodes.set(net, `n${nodes.size}`);
  }
  const nodeOf = (net: string): string => nodes.get(net)!;
  const lines = elements.flatMap((element) => elementLines(element, nodeOf, options));
  const gmin = options.gminSiemens ?? 1e-12;
  const shunts =
    gmin > 0 ? [...nodes.values()].slice(1).map((node) => `rgmin_${node} ${node} 0 ${1 / gmin}`) : [];
  const text = ['circuit', ...lines, ...shunts, referenceOptions, ...commands, '.end', ''].join('\n');
  return { text, nodes };
}

/** An element's id as the netlist has it, behind the letter of its kind. */
export function netlistId(id: string): string {
  return id.replaceAll(/\W/g, '_').toLowerCase();
}

type Values = Readonly<Record<string, number>>;
type Writer = (id: string, nodes: readonly string[], values: Values, options: NetlistOptions) => string[];

function elementLines(
  element: CircuitElement,
  nodeOf: (net: string) => string,
  options: NetlistOptions,
): readonly string[] {
  const id = netlistId(element.id);
  const nodes = element.nets.map(nodeOf);
  const amps = options.asAmps?.[element.id];
  if (amps !== undefined) return [`i${id} ${nodes[0]} ${nodes[1]} ${amps}`];
  const volts = options.asVolts?.[element.id];
  if (volts !== undefined) return [`v${id} ${nodes[0]} ${nodes[1]} dc ${volts}`];
  if (valveDevices.includes(element.device.name)) return valveLines(element, nodeOf);
  const values = Object.fromEntries(
    element.device.parameters.map(({ name, initial }) => [name, element.parameters[name] ?? initial]),
  );
  const start = options.startVolts?.[element.id] ?? options.startAmps?.[element.id];
  const write = writers[element.device.name];
  if (!write) throw new Error(`${element.id}: no netlist form of ${element.device.name}`);
  const lines = write(id, nodes, values, { ...options, movedSource: moved(element, options) });
  // A capacitor's own line comes first, as does an inductor's or a primary's.
  return start === undefined
    ? lines
    : lines.map((line, index) => (index === 0 ? `${line} ic=${start}` : line));
}

function moved(element: CircuitElement, options: NetlistOptions): string | undefined {
  return options.movedSource === element.id ? element.id : undefined;
}

const open = 1 / openSiemens;

const writers: Readonly<Record<string, Writer>> = {
  ...semiconductorWriters,
  bjt: (id, nodes, p, options) =>
    options.typedTransistors ? typedTransistor(id, nodes, p) : semiconductorWriters['bjt']!(id, nodes, p),
  resistor: (id, [a, b], p) => [`r${id} ${a} ${b} ${p['ohms']}`],
  'voltage-source': (id, [plus, minus], p, options) => [
    `v${id} ${plus} ${minus} dc ${p['volts']}${options.movedSource ? ' ac 1' : ''}`,
  ],
  'current-source': (id, [from, to], p) => [`i${id} ${from} ${to} ${p['amps']}`],
  capacitor: (id, [a, b], p) => [
    `c${id} ${a} ${b} ${p['farads']}`,
    ...(p['leakageSiemens']! > 0 ? [`r${id}_leak ${a} ${b} ${1 / p['leakageSiemens']!}`] : []),
  ],
  inductor: (id, [a, b], p) => winding(id, a!, b!, p['henries']!, p['ohms']!),
  switch: (id, [a, b], p) => [`r${id} ${a} ${b} ${p['closed']! >= 0.5 ? p['closedOhms'] : open}`],
  fuse: (id, [a, b], p) => [`r${id} ${a} ${b} ${p['intact']! >= 0.5 ? p['ohms'] : open}`],
  heater: (id, [a, b], p) => [
    `r${id} ${a} ${b} ${(p['ratedVolts']! / p['ratedAmps']!) * (0.15 + 0.85 * p['hot']!)}`,
  ],
  potentiometer: (id, [ccw, wiper, cw], p) => {
    const part = trackPart(p['position']!, p['taper']! >= 0.5 ? 'logarithmic' : 'linear');
    return [
      `r${id}_lower ${ccw} ${wiper} ${Math.max(0.1, p['ohms']! * part)}`,
      `r${id}_upper ${wiper} ${cw} ${Math.max(0.1, p['ohms']! * (1 - part))}`,
    ];
  },
  diode: (id, [anode, cathode], p) => {
    const spread = p['emissionFactor']! * thermalVolts;
    const forward = [
      `b${id} ${anode} ${id}_x i=${p['saturationAmps']}*(exp(min(v(${anode},${id}_x)/${spread},100))-1)`,
      `r${id} ${id}_x ${cathode} ${p['seriesOhms']}`,
    ];
    if (p['breakdownVolts']! >= 1e5) return forward;
    const past = `(v(${cathode},${id}_y)-${p['breakdownVolts']})`;
    return [
      ...forward,
      `b${id}_z ${cathode} ${id}_y i=${p['breakdownAmps']}*exp(max(min(${past}/${spread},100),-300))`,
      `r${id}_z ${id}_y ${anode} ${p['breakdownOhms']}`,
    ];
  },
  lamp: (id, [a, b], p) => {
    const hot = p['ratedVolts']! ** 2 / p['ratedWatts']!;
    const cold = (hot / 12) ** 2;
    const volts = `v(${a},${b})`;
    // The square keeps the derivative finite at 0 V.
    const rest = `${hot * hot - cold}*pow((${volts}*${volts}+1e-12)/${p['ratedVolts']! ** 2},0.45)`;
    return [`b${id} ${a} ${b} i=${volts}/sqrt(${cold}+${rest})`];
  },
  'gas-stabiliser': (id, [anode, cathode], p) => {
    const volts = `v(${anode},${cathode})`;
    const over = `((${volts}-${p['regulatedVolts']! - p['regulatedAmps']! * p['slopeOhms']!})/0.03)`;
    const glow = `${0.03 / p['slopeOhms']!}*(${over} > 80 ? ${over} : ln(1+exp(min(${over},80))))`;
    return [`b${id} ${anode} ${cathode} i=1e-10*${volts}${p['lit']! > 0.5 ? `+${glow}` : ''}`];
  },
  'output-transformer': (id, [pa, pb, sa, sb], p) => [
    ...winding(`${id}_p`, pa!, pb!, p['primaryHenries']!, p['primaryOhms']!),
    ...winding(`${id}_s`, sa!, sb!, p['primaryHenries']! / p['ratio']! ** 2, p['secondaryOhms']!),
    `k${id} l${id}_p l${id}_s 1`,
  ],
  'push-pull-output-transformer': (id, [a1, tap1, ct, tap2, a2, sa, sb], p) => {
    const [t, first, second] = [p['tap']!, 0.5, 0.5];
    const [one, two] = [p['firstOhms']!, p['secondOhms']!];
    const pieces = [
      [a1!, tap1!, first * (1 - t), one * (1 - t)],
      [tap1!, ct!, first * t, one * t],
      [ct!, tap2!, second * t, two * t],
      [tap2!, a2!, second * (1 - t), two * (1 - t)],
      [sa!, sb!, 1 / p['ratio']!, p['secondaryOhms']!],
    ] as const;
    return coupled(id, pieces, p['primaryHenries']!);
  },
  'tapped-output-transformer': (id, [pa, tap, pb, sa, sb], p) => {
    const [t, whole] = [p['tap']!, p['primaryHenries']!];
    return [
      ...winding(`${id}_p`, pa!, tap!, t * t * whole, t * p['primaryOhms']!),
      ...winding(`${id}_q`, tap!, pb!, (1 - t) ** 2 * whole, (1 - t) * p['primaryOhms']!),
      ...winding(`${id}_s`, sa!, sb!, whole / p['ratio']! ** 2, p['secondaryOhms']!),
      `k${id}_1 l${id}_p l${id}_q 1`,
      `k${id}_2 l${id}_p l${id}_s 1`,
      `k${id}_3 l${id}_q l${id}_s 1`,
    ];
  },
};

/** Pieces of one winding and the secondary, all on one core. */
function coupled(
  id: string,
  pieces: readonly (readonly [string, string, number, number])[],
  whole: number,
): string[] {
  const lines = pieces.flatMap(([a, b, turns, ohms], index) =>
    winding(`${id}_${index}`, a, b, turns * turns * whole, ohms),
  );
  for (let one = 0; one < pieces.length; one++) {
    for (let other = one + 1; other < pieces.length; other++) {
      lines.push(`k${id}_${one}${other} l${id}_${one} l${id}_${other} 1`);
    }
  }
  return lines;
}

/** An inductance with its copper in series. */
function winding(id: string, a: string, b: string, henries: number, ohms: number): string[] {
  if (henries <= 0) return [`r${id} ${a} ${b} ${Math.max(ohms, 1e-9)}`];
  if (ohms <= 0) return [`l${id} ${a} ${b} ${henries}`];
  return [`l${id} ${a} ${id}_m ${henries}`, `r${id} ${id}_m ${b} ${ohms}`];
}
