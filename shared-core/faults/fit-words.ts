import { formatQuantity } from '../units/format-quantity.ts';
import type { ValveType } from '../valves/valve-type.ts';
import { electrodeWords, valveDuty } from './fit-electrodes.ts';
import type { PinFinding } from './fit-pins.ts';
import type { FitReason, HeaterFit } from './fit-report.ts';
import type { WiredSocket } from './fit-socket.ts';
import type { PlaceVolts } from './fit-volts.ts';

/** Below this nothing is damaged by being in the wrong place, in volts (V): the usual safe voltage. */
const harmlessVolts = 30;

/** Where a sheet gives no limit, heater and cathode are taken to bear this much (V): common practice, no source. */
const usualHeaterCathodeVolts = 90;

/** A socket with a type in it that its pins are not wired for. */
export interface Misfit {
  readonly socket: WiredSocket;
  readonly type: ValveType;
  readonly voltsAt: (pin: number) => PlaceVolts | null;
  readonly heater: readonly HeaterFit[];
}

/** A finding about the pins as a reason in words, with what it would damage. */
export function reasonOf(finding: PinFinding, misfit: Misfit): FitReason {
  const { code, pins } = finding;
  const { id } = misfit.socket.part;
  return { code, socket: id, pins, text: textOf(finding, misfit), damage: damageOf(finding, misfit) };
}

function textOf({ code, pins, electrode }: PinFinding, misfit: Misfit): string {
  const { socket, type } = misfit;
  const [pin = 0] = pins;
  const has = electrode ? electrodeWords(electrode) : '';
  switch (code) {
    case 'base':
      return `${type.name} has the base ${type.base} and does not go into the ${socket.base} socket of ${socket.part.id}.`;
    case 'duty':
      return `${type.name} is ${article(valveDuty(type))}, and the socket is wired for ${article(valveDuty(socket.kitType))}.`;
    case 'electrode':
      return `Pin ${pin} is wired for the ${wiredFor(socket, pin)}${brings(misfit, pin)}; ${type.name} has its ${has} there.`;
    case 'sections-mixed':
      return `Pins ${list(pins)} belong to one section of ${type.name}; the socket is wired for two there.`;
    case 'open':
      return electrode?.kind === 'suppressor grid'
        ? `${type.name} has its suppressor grid on pin ${pin}, to be joined to pin ${electrode.joinTo}; nothing is soldered there.`
        : `${type.name} has its ${has} on pin ${pin}, and nothing is soldered there.`;
    case 'missing':
      return `Pin ${pin} is wired for the ${has}; ${type.name} has none there.`;
    case 'internal':
      return `${type.name} has an internal connection on pin ${pin}, to be left free; it is wired for the ${wiredFor(socket, pin)}${brings(misfit, pin)}.`;
    case 'join':
      return `Pins ${list(pins)} are one inside ${type.name}; the socket is wired for two${apart(misfit, pins)}.`;
    case 'join-lost':
      return `The wiring goes from pin to pin through the valve at ${list(pins)}; in ${type.name} they are not joined.`;
    case 'heater-pins':
      return `The heater of ${type.name} is on pins ${list(pins)}, which are not fed so here: ${heaterWords(misfit.heater)}.`;
  }
}

function damageOf({ code, pins, electrode }: PinFinding, misfit: Misfit): string | null {
  const [pin = 0] = pins;
  const carried = largest(misfit.voltsAt(pin));
  switch (code) {
    case 'electrode':
      return electrode ? electrodeDamage(electrode, misfit) : null;
    case 'internal':
      return carried > harmlessVolts
        ? `${volts(carried)} on an internal connection can be on any electrode of ${misfit.type.name}.`
        : null;
    case 'join':
      return joinDamage(misfit, pins);
    case 'duty':
      return valveDuty(misfit.type) === 'rectifier'
        ? 'A rectifier has no grid: whatever the circuit lets through flows, and burns the resistors around it.'
        : valveDuty(misfit.socket.kitType) === 'rectifier'
          ? 'It is not made for the charging current, nor its heater for the high tension on its cathode.'
          : null;
    case 'heater-pins':
      return heaterDamage(misfit.type, misfit.heater);
    default:
      return null;
  }
}

function electrodeDamage(electrode: NonNullable<PinFinding['electrode']>, misfit: Misfit): string | null {
  const { type, voltsAt, socket } = misfit;
  const direct = voltsAt(electrode.pin)?.direct ?? 0;
  const carried = largest(voltsAt(electrode.pin));
  const section = type.sections.find(({ name }) => name === electrode.section) ?? type.sections[0];
  const cathode = voltsAt(section?.pins['cathode'] ?? 0)?.direct ?? 0;
  const limit = type.ratings.find(({ what }) => what === 'heaterCathodeVolts')?.value;
  const bears = limit ?? usualHeaterCathodeVolts;
  const heaterPin = socket.wiredElectrodes.find(({ kind }) => kind === 'heater')?.pin ?? 0;
  const line = voltsAt(heaterPin)?.direct ?? 0;
  switch (electrode.kind) {
    case 'heater':
    case 'heater tap':
    case 'filament':
      return carried > harmlessVolts
        ? `High tension on the heater: ${volts(carried)}, where the insulation to the cathode bears ${volts(bears)}.`
        : null;
    case 'cathode':
      return Math.abs(direct - line) > bears
        ? `High tension on the cathode: ${volts(direct - line)} against the heater, where the insulation bears ${volts(bears)}.`
        : null;
    case 'grid':
      return direct - cathode > harmlessVolts
        ? `High tension on the grid: ${volts(direct - cathode)} above the cathode; it draws current and burns, and the anode with it.`
        : null;
    case 'screen':
      return carried > harmlessVolts && largest(voltsAt(section?.pins['anode'] ?? 0)) < harmlessVolts
        ? `The screen stands at ${volts(carried)} and the anode at nothing: the screen takes the whole current and burns.`
        : null;
    case 'shield':
    case 'suppressor grid':
      return carried > harmlessVolts
        ? `${volts(carried)} on the ${electrode.kind} can arc to the electrodes beside it.`
        : null;
    default:
      return null;
  }
}

function joinDamage({ type, voltsAt }: Misfit, pins: readonly number[]): string | null {
  const found = pins.map((pin) => voltsAt(pin)?.direct ?? 0);
  const between = Math.max(...found) - Math.min(...found);
  return between > harmlessVolts
    ? `${volts(between)} between these pins is shorted through ${type.name}: what is soldered to them burns.`
    : null;
}

/** Heaters live longest within ±10 % of their rated voltage (receiving-valve practice), as ratings take it. */
const heaterShare = 0.1;

/** A heater that gets too little or too much where the pins do not fit anyway; nothing where it is fed well. */
export function unfitHeater({ socket, type, heater }: Misfit): readonly FitReason[] {
  const isFed = heater.every((wire) => Math.abs((wire.volts ?? 0) / wire.ratedVolts - 1) <= heaterShare);
  if (isFed) return [];
  const pins = [...new Set(heater.flatMap((wire) => wire.pins))].sort((a, b) => a - b);
  const text = `The heater of ${type.name} is not fed as it needs: ${heaterWords(heater)}.`;
  const damage = heaterDamage(type, heater);
  return [{ code: 'heater-volts', socket: socket.part.id, pins, text, damage }];
}

/** What too much voltage does to a heater; null where it is not too much. */
export function heaterDamage(type: Pick<ValveType, 'name'>, heater: readonly HeaterFit[]): string | null {
  const worst = Math.max(0, ...heater.map((wire) => (wire.volts ?? 0) / wire.ratedVolts));
  return worst > 1.1
    ? `The heater of ${type.name} runs at ${times(worst)} its voltage: it burns out, or the cathode is used up soon.`
    : null;
}

/** "0 V of 6.3 V", or for each wire of several. */
export function heaterWords(heater: readonly HeaterFit[]): string {
  const shown = heater.map((wire) => {
    const gets = wire.volts === null ? 'an unknown voltage' : volts(wire.volts);
    return `pins ${wire.pins[0]} and ${wire.pins[1]} get ${gets} of ${volts(wire.ratedVolts)}`;
  });
  return shown.join(', ');
}

function times(share: number): string {
  if (share > 1.85 && share < 2.15) return 'twice';
  return `${Number(share.toPrecision(2))} times`;
}

/** What a pin is wired for: all that the kit's type has on that net at this socket. */
function wiredFor(socket: WiredSocket, pin: number): string {
  const own = socket.wiredElectrodes.filter((each) => each.pin === pin);
  const there = own.length > 0 ? own : socket.kitElectrodesOn(socket.netOf(pin));
  return there.length === 0 ? 'nothing of the valve' : there.map(electrodeWords).join(' and ');
}

function brings(misfit: Misfit, pin: number): string {
  const found = misfit.voltsAt(pin);
  if (!found || largest(found) < 1) return '';
  const isAlternating = found.alternating > Math.abs(found.direct);
  return `, and brings ${volts(isAlternating ? found.alternating : found.direct)}${isAlternating ? ' AC' : ''}`;
}

function apart({ voltsAt }: Misfit, pins: readonly number[]): string {
  const found = pins.map((pin) => voltsAt(pin));
  if (found.some((each) => each === null)) return '';
  return `, ${found.map((each) => volts(each?.direct ?? 0)).join(' and ')}`;
}

function largest(found: PlaceVolts | null): number {
  return found ? Math.max(Math.abs(found.direct), found.alternating) : 0;
}

function volts(value: number): string {
  return formatQuantity(Math.abs(value) < 0.01 ? 0 : value, 'V', 3);
}

function list(pins: readonly number[]): string {
  return pins.length < 2 ? String(pins[0] ?? '') : `${pins.slice(0, -1).join(', ')} and ${pins.at(-1)}`;
}

function article(duty: ReturnType<typeof valveDuty>): string {
  return duty === 'amplifier' ? 'an amplifying valve' : duty === 'rectifier' ? 'a rectifier' : 'a stabiliser';
}
