import { thermalVolts } from '../../shared-core/devices/junction.ts';

type Values = Readonly<Record<string, number>>;
type Writer = (id: string, nodes: readonly string[], values: Values) => string[];

/** max(0, x) with a bend of the given width, as `w·ln(1 + exp(x/w))`; the branch not taken must not overflow. */
function ramp(x: string, width: number): string {
  const ratio = `((${x})/${width})`;
  return `(${ratio} > 80 ? (${x}) : ${width}*ln(1+exp(min(${ratio},80))))`;
}

function lightEmitting(id: string, [anode, cathode]: readonly string[], p: Values): string[] {
  const spread = p['emissionFactor']! * thermalVolts;
  const knee = p['forwardVolts']! - p['seriesOhms']! * p['forwardAmps']!;
  const scale = p['forwardAmps']! * Math.exp(-Math.max(0.5, knee) / spread);
  return [
    `b${id} ${anode} ${id}_x i=${scale}*(exp(max(min(v(${anode},${id}_x)/${spread},200),-200))-1)`,
    `r${id} ${id}_x ${cathode} ${p['seriesOhms']}`,
  ];
}

/** The simulator's own transistor: same equations, not the same hand. */
function transistor(id: string, [collector, base, emitter]: readonly string[], p: Values): string[] {
  const model = [
    `is=${p['saturationAmps']} bf=${p['forwardGain']} br=${p['reverseGain']} vaf=${p['earlyVolts']}`,
    `ikf=${p['kneeAmps']} nf=${p['emissionFactor']} nr=${p['emissionFactor']}`,
  ].join(' ');
  const kind = p['polarity']! < 0 ? 'pnp' : 'npn';
  return [`q${id} ${collector} ${base} ${emitter} qm${id}`, `.model qm${id} ${kind}(${model})`];
}

/** The same with its law typed in, for what the simulator's own has otherwise: leakage in reverse, above 10 A. */
export function typedTransistor(
  id: string,
  [collector, base, emitter]: readonly string[],
  p: Values,
): string[] {
  const [sign, scale, spread] = [
    p['polarity']! < 0 ? -1 : 1,
    p['saturationAmps']!,
    p['emissionFactor']! * thermalVolts,
  ];
  const volts = (one: string, other: string) => (sign < 0 ? `v(${other},${one})` : `v(${one},${other})`);
  const most = Math.log(10 / scale);
  const junction = (v: string) => {
    const x = `(${v}/${spread})`;
    return `(${x} < ${most} ? ${scale}*(exp(min(${x},${most}))-1) : 10*(1+${x}-${most})-${scale})`;
  };
  const [ahead, back] = [junction(volts(base!, emitter!)), junction(volts(base!, collector!))];
  const lift = `max(0.1,1-${volts(base!, collector!)}/${p['earlyVolts']})`;
  const charge = `((1+sqrt(1+${4 / p['kneeAmps']!}*max(0,${ahead})))/2)`;
  const transport = `((${ahead}-${back})/${charge}*${lift})`;
  return [
    `b${id}_t ${collector} ${emitter} i=${sign}*${transport}`,
    `b${id}_f ${base} ${emitter} i=${sign}*${ahead}/${p['forwardGain']}`,
    `b${id}_r ${base} ${collector} i=${sign}*${back}/${p['reverseGain']}`,
  ];
}

function fieldEffect(id: string, [drain, gate, source]: readonly string[], p: Values): string[] {
  const n = p['polarity']! < 0;
  const vgs = n ? `v(${source},${gate})` : `v(${gate},${source})`;
  const vds = n ? `v(${source},${drain})` : `v(${drain},${source})`;
  const unit = p['subthresholdFactor']! * thermalVolts;
  const near = `((${vgs}-${p['thresholdVolts']})/${2 * unit})`;
  const far = `(${near}-${vds}/${2 * unit})`;
  const level = (x: string) => ramp(x, 1);
  const channel = `${2 * p['transconductance']! * unit * unit}*(pow(${level(near)},2)-pow(${level(far)},2))`;
  const [from, to] = n ? [source, drain] : [drain, source];
  return [
    `b${id} ${from} ${to} i=${channel}*(1+${p['modulation']}*max(0,${vds}))`,
    `bd${id} ${to} ${id}_x i=1e-11*(exp(max(min(v(${to},${id}_x)/${thermalVolts},200),-200))-1)`,
    `rd${id} ${id}_x ${from} 0.05`,
  ];
}

function regulator(id: string, [input, output, adjust]: readonly string[], p: Values): string[] {
  const isNegative = p['polarity']! < 0;
  const volts = (one: string, other: string) => (isNegative ? `v(${other},${one})` : `v(${one},${other})`);
  const missing = `(${p['referenceVolts']}-${volts(output!, adjust!)})`;
  const window = p['outputOhms']! * p['limitAmps']!;
  const asked = `((${ramp(missing, 5e-4)}-${ramp(`${missing}-${window}`, 5e-4)})/${p['outputOhms']})`;
  const room = `(${volts(input!, output!)}-${p['dropoutVolts']})`;
  const headroom = `(${room} > 0.1 ? ${room}-0.05 : (${room} > 0 ? ${room}*${room}/0.2 : 0))`;
  const amps = `((${asked}+${p['leastLoadAmps']})*tanh(${headroom}/${p['dropoutOhms']! * p['limitAmps']!}))`;
  const part = `min(1,max(0,${volts(input!, adjust!)}))`;
  const ground = `(${p['adjustAmps']}*${part}*${part}*(3-2*${part}))`;
  const line = (name: string, to: string, law: string) =>
    isNegative ? `b${id}_${name} ${to} ${input} i=${law}` : `b${id}_${name} ${input} ${to} i=${law}`;
  return [line('out', output!, amps), line('adj', adjust!, ground)];
}

/** Netlist forms of the semiconductors beside the diode. */
export const semiconductorWriters: Readonly<Record<string, Writer>> = {
  led: lightEmitting,
  bjt: transistor,
  mosfet: fieldEffect,
  'linear-regulator': regulator,
};
