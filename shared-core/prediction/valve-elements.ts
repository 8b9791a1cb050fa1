import type { CircuitElement } from '../circuit/circuit.ts';
import { heater } from '../devices/heater.ts';
import { resistor } from '../devices/resistor.ts';
import type { ValvePart } from '../kit/kit.ts';
import { findValveType } from '../valves/index.ts';
import {
  canBeOff,
  offsetParameters,
  offsetSection,
  type OffsetWriter,
  openOffset,
} from '../valves/offset-section.ts';
import { sectionDevice } from '../valves/section-law.ts';
import { hasAmplificationError } from '../valves/slope-error.ts';
import type { ValveSection, ValveType } from '../valves/valve-type.ts';
import type { ElementContext } from './element-context.ts';
import { isFitted } from './wiring.ts';

/** The catalogue entry of what is in a socket; undefined when the socket is empty or the type unknown. */
export function valveInSocket(
  context: Pick<ElementContext, 'chosen' | 'condition' | 'fitted'>,
  part: ValvePart,
): ValveType | undefined {
  if (!isFitted(part, context.condition)) return undefined;
  return findValveType(context.fitted.valves[part.id] ?? part.type, context.chosen.valves);
}

/** Name of a section in circuits and worlds: `V1.2`, or `V2` for a single one. */
export function sectionName(part: ValvePart, section: ValveSection): string {
  return section.name === '' ? part.id : `${part.id}.${section.name}`;
}

/**
 * Name of the matched set that a socket's valve is of, `V2+V3`; null where it is of none.
 *
 * Only while every socket of the set holds the type that the kit has there: what was fitted instead matches nothing.
 */
export function matchedSet(
  context: Pick<ElementContext, 'chosen' | 'condition' | 'fitted'>,
  part: ValvePart,
): string | null {
  const { matched, parts, valves } = context.chosen;
  const set = matched?.find((sockets) => sockets.includes(part.id));
  const isWhole = set?.every((id) => {
    const own = parts.find((each) => each.id === id);
    if (own?.kind !== 'valve') return false;
    const fitted = context.fitted.valves[id];
    return fitted === undefined || findValveType(fitted, valves) === findValveType(own.type, valves);
  });
  return set && isWhole ? set.join('+') : null;
}

/** Joints inside a valve, in ohms (Ω): as small as a short beside megohms may be. */
const jointOhms = 0.1;

/**
 * A valve's sections, heater and inner joints as elements on the nets of its socket's pins.
 *
 * The type decides which electrode sits on which pin, so that another type in the socket is computed as
 * what it is. Rectifier anodes are left to the supply; cold valves conduct nothing, gas-filled ones need no heat.
 */
export function valveElements(context: ElementContext, part: ValvePart): readonly CircuitElement[] {
  const type = valveInSocket(context, part);
  if (!type) return [];
  const netOfPin = (pin: number): string => context.wiring.netAt(`${part.id}.${pin}`);
  const elements: CircuitElement[] = [];
  for (const section of type.sections) {
    if (!conducts(context, part, type, section)) continue;
    const device = sectionDevice(section);
    elements.push({
      id: sectionName(part, section),
      device,
      nets: device.pins.map((pin) => netOfPin(section.pins[pin] ?? 0)),
      parameters: circuitParameters(context, part, type, section),
    });
  }
  type.heater.elements.forEach((wire, index) => {
    elements.push({
      id: `${part.id}#heater${index + 1}`,
      device: heater,
      nets: wire.pins.map(netOfPin),
      parameters: {
        ratedVolts: wire.volts,
        ratedAmps: wire.amps,
        hot: context.heat === 'cold' ? 0 : 1,
      },
    });
  });
  for (const group of type.joinedPins ?? []) {
    group.slice(1).forEach((pin, index) => {
      const nets = [netOfPin(group[index] ?? pin), netOfPin(pin)];
      const id = `${part.id}#joint${pin}`;
      elements.push({ id, device: resistor, nets, parameters: { ohms: jointOhms } });
    });
  }
  return elements;
}

function conducts(context: ElementContext, part: ValvePart, type: ValveType, section: ValveSection): boolean {
  if (section.device === 'rectifier-valve' || context.heat === 'cold') return false;
  if (section.device === 'gas-stabiliser') return true;
  return context.heat === 'hot' && canHeat(context, part, type);
}

/** Whether any of the heater's wires lies between two nets: in a socket wired for another type none may. */
function canHeat(context: ElementContext, part: ValvePart, type: ValveType): boolean {
  return type.heater.elements.some(({ pins }) => {
    const [one, other] = pins.map((pin) => context.wiring.netAt(`${part.id}.${pin}`));
    return one !== other;
  });
}

/** Whether a stabiliser glows is for the solver to find; with the plug just out it still does. */
function circuitParameters(
  context: ElementContext,
  part: ValvePart,
  type: ValveType,
  section: ValveSection,
): Readonly<Record<string, number>> {
  const { lit, ...parameters } = sectionParameters(context, part, type, section);
  return lit !== undefined && context.condition.supply === 'unplugged'
    ? { ...parameters, lit: 1 }
    : parameters;
}

/**
 * A section's parameters in this world: production spread per section, model error per type.
 *
 * The model's error holds at the section's operating point of the first solution; before that at the point that
 * the type's spread is referred to.
 */
export function sectionParameters(
  context: ElementContext,
  part: ValvePart,
  type: ValveType,
  section: ValveSection,
): Readonly<Record<string, number>> {
  const device = sectionDevice(section);
  const name = sectionName(part, section);
  const set = matchedSet(context, part);
  const setName = set === null ? null : sectionName({ ...part, id: set }, section);
  const own = modelOf(context, name, type, section);
  return Object.fromEntries(
    device.parameters.map((parameter) => {
      const value = own[parameter.name] ?? parameter.initial;
      const factor = scattered.has(parameter.name)
        ? context.world.factor(`${name}.${parameter.name}`) *
          context.world.factor(`${type.name}.${parameter.name}`) *
          (setName === null ? 1 : context.world.factor(`${setName}.${parameter.name}`))
        : 1;
      return [parameter.name, value * factor];
    }),
  );
}

function modelOf(
  context: ElementContext,
  name: string,
  type: ValveType,
  section: ValveSection,
): Readonly<Record<string, number>> {
  if (!canBeOff(section.device)) return section.parameters;
  const factorOf = (what: string): number => context.world.factor(`${type.name}.${what}`);
  const offset = {
    current: factorOf('current'),
    slope: factorOf('slope'),
    amplification: hasAmplificationError(section) ? factorOf('amplification') : 1,
  };
  const isOff = offset.current !== 1 || offset.slope !== 1 || offset.amplification !== 1;
  if (!isOff) return section.parameters;
  const pivot = pivotOf(context, name, type);
  return pivot
    ? offsetSection(section.device, { ...initialOf(section.device), ...section.parameters }, pivot, offset)
    : { ...section.parameters, kg1: (section.parameters['kg1'] ?? 0) / offset.current };
}

function pivotOf({ pivots }: Pick<ElementContext, 'pivots'>, name: string, type: ValveType) {
  return pivots.get(name) ?? type.characteristics[0];
}

/** A section of a solved circuit whose model may be off, and the writer of its parameters. */
export interface ModelledSection {
  /** Its element. */
  readonly id: string;
  readonly type: string;
  /** Names of the parameters that are written, in order. */
  readonly names: readonly string[];
  readonly write: OffsetWriter;
}

/** The sections of a condition's circuit whose models may be off. */
export function modelledSections(
  context: Pick<ElementContext, 'chosen' | 'condition' | 'fitted' | 'pivots'>,
): readonly ModelledSection[] {
  return context.chosen.parts.flatMap((part) => {
    const type = part.kind === 'valve' ? valveInSocket(context, part) : undefined;
    if (part.kind !== 'valve' || !type) return [];
    return type.sections.flatMap((section): readonly ModelledSection[] => {
      const { device, parameters } = section;
      const id = sectionName(part, section);
      const pivot = pivotOf(context, id, type);
      if (!canBeOff(device) || !pivot) return [];
      const whole = { ...initialOf(device), ...parameters };
      const write = openOffset(device, whole, pivot);
      return [{ id, type: type.name, names: offsetParameters[device], write }];
    });
  });
}

function initialOf(device: ValveSection['device']): Readonly<Record<string, number>> {
  return Object.fromEntries(sectionDevice({ device }).parameters.map(({ name, initial }) => [name, initial]));
}

/** Parameters that production spread, model error or a study of wrong models may move. */
const scattered = new Set([
  'emission',
  'mu',
  'kg1',
  'kg2',
  'perveance',
  'regulatedVolts',
  'slopeOhms',
  'ex',
  'kp',
  'kvb',
]);
