import type { CircuitElement } from '../../shared-core/circuit/circuit.ts';

/**
 * The laws of the three valve devices written for the reference simulator, as controlled current sources.
 *
 * The same equations as in `shared-core/devices`, typed in by hand: a slip in one of the two shows as a difference.
 */

/** Names of the devices that `valveLines` can write. */
export const valveDevices: readonly string[] = ['triode', 'pentode', 'rectifier-valve'];

/**
 * Netlist lines of one valve.
 *
 * @param nodeOf Net of the circuit to node name of the netlist.
 */
export function valveLines(element: CircuitElement, nodeOf: (net: string) => string): readonly string[] {
  const nodes = element.nets.map(nodeOf);
  const given: Record<string, number> = {};
  for (const { name, initial } of element.device.parameters) {
    given[name] = element.parameters[name] ?? initial;
  }
  const id = element.id.replaceAll(/\W/g, '_');
  if (element.device.name === 'triode') return triodeLines(id, nodes, given);
  if (element.device.name === 'pentode') return pentodeLines(id, nodes, given);
  return rectifierLines(id, nodes, given);
}

type Parameters = Readonly<Record<string, number>>;

function triodeLines(id: string, nodes: readonly string[], p: Parameters): readonly string[] {
  const [anode, grid, cathode] = nodes as [string, string, string];
  const va = `v(${anode},${cathode})`;
  const vg = `v(${grid},${cathode})`;
  const e1 = `((${va})/${p['kp']}*${softplus(`${p['kp']}*(1/${p['mu']}+(${vg}+${p['vct']})/sqrt(${p['kvb']}+${va}*${va}))`)})`;
  const ia = `(${va} > 0 ? ${p['emission']}*2*pow(${e1},${p['ex']})/${p['kg1']} : 0)`;
  return [
    `b${id}_a ${anode} ${cathode} i=${ia}`,
    `b${id}_g ${grid} ${cathode} i=${gridCurrent(vg, p)}-${p['gasRatio']}*${ia}`,
  ];
}

function pentodeLines(id: string, nodes: readonly string[], p: Parameters): readonly string[] {
  const [anode, screen, grid, cathode] = nodes as [string, string, string, string];
  const va = `v(${anode},${cathode})`;
  const vs = `v(${screen},${cathode})`;
  const vg = `v(${grid},${cathode})`;
  const held = `(${vs} > 0 ? (${vs} < 0.2 ? 0.1+2.5*${vs}*${vs} : ${vs}) : 0.1)`;
  const e1 = `(${held}/${p['kp']}*${softplus(`${p['kp']}*(1/${p['mu']}+${vg}/${held})`)})`;
  const flow = `${p['emission']}*2*pow(${e1},${p['ex']})`;
  const ramp = `(${va} > 0 ? (${va} < 1 ? ${va}*${va}*(2-${va}) : ${va}) : 0)`;
  const gate = `(${vs} > 0 ? (${vs} < 1 ? ${vs}*${vs}*(3-2*${vs}) : 1) : 0)`;
  const ia = `(${flow}/${p['kg1']}*atan(${ramp}/${p['kvb']})*(1+${p['lambda']}*${va}))`;
  return [
    `b${id}_a ${anode} ${cathode} i=${ia}`,
    `b${id}_s ${screen} ${cathode} i=${flow}*${gate}/${p['kg2']}`,
    `b${id}_g ${grid} ${cathode} i=${gridCurrent(vg, p)}-${p['gasRatio']}*${ia}`,
  ];
}

function rectifierLines(id: string, nodes: readonly string[], p: Parameters): readonly string[] {
  const [anode, cathode] = nodes as [string, string];
  const volts = `v(${anode},${cathode})`;
  const factor = p['perveance']! * p['emission']!;
  return [`b${id} ${anode} ${cathode} i=(${volts} > 0 ? ${factor}*pow(${volts},1.5) : 0)`];
}

function gridCurrent(vg: string, p: Parameters): string {
  const x = `(${vg}-${p['gridOnset']})/${p['gridSlope']}`;
  return `${p['emission']}*${p['gridSlope']}/${p['gridOhms']}*${softplus(x)}`;
}

/** ln(1 + exp(x)), equal to x above 80; the branch not taken must not overflow either. */
function softplus(x: string): string {
  return `((${x}) > 80 ? (${x}) : ln(1+exp(min((${x}),80))))`;
}
