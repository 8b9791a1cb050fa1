import type { ValveType } from '../valves/valve-type.ts';
import {
  circuitKinds,
  type Electrode,
  type ElectrodeKind,
  electrodesOf,
  pinWords,
  valveDuty,
} from './fit-electrodes.ts';
import type { FitReasonCode, PinRow } from './fit-report.ts';
import { hookUpIn, type WiredSocket } from './fit-socket.ts';

/** Something about the pins that keeps a valve out of a socket. */
export interface PinFinding {
  readonly code: Extract<
    FitReasonCode,
    | 'base'
    | 'duty'
    | 'electrode'
    | 'sections-mixed'
    | 'open'
    | 'missing'
    | 'internal'
    | 'join'
    | 'join-lost'
    | 'heater-pins'
  >;
  readonly pins: readonly number[];
  /** The electrode of the type in hand that it is about; of the kit's type where one is missing. */
  readonly electrode: Electrode | null;
}

/** A type held against a socket, pin by pin; nothing is solved for it. */
export interface PinFit {
  readonly rows: readonly Omit<PinRow, 'volts' | 'isAlternating'>[];
  readonly findings: readonly PinFinding[];
  /** Sections of the type that nothing is soldered to. */
  readonly idleSections: readonly string[];
  /** Pins of shields that nothing is soldered to. */
  readonly floatingShields: readonly number[];
}

const heaterKinds: ReadonlySet<ElectrodeKind> = new Set(['heater', 'heater tap', 'filament']);

/**
 * Holds a type against a socket as it is soldered, electrode by electrode.
 *
 * A pin is wired for whatever the kit's own type has on the same net at this socket: the suppressor grid that
 * is joined to the cathode at the socket is cathode wiring too. Like sections may be exchanged as wholes.
 */
export function comparePins(socket: WiredSocket, type: ValveType): PinFit {
  if (type.base !== socket.base) {
    const findings: PinFinding[] = [{ code: 'base', pins: [], electrode: null }];
    return { rows: [], findings, idleSections: [], floatingShields: [] };
  }
  const own = electrodesOf(type);
  const duty: PinFinding[] =
    valveDuty(type) === valveDuty(socket.kitType) ? [] : [{ code: 'duty', pins: [], electrode: null }];
  const idleSections = type.sections
    .map(({ name }) => name)
    .filter((name) => type.sections.length > 1 && isIdle(socket, own, name));
  const used = own.filter(({ kind, section }) => !(circuitKinds.has(kind) && idleSections.includes(section)));
  const each = used.flatMap((electrode) => judgeElectrode(socket, electrode) ?? []);
  const atPins = [...each, ...mixedSections(socket, type, used, each), ...missing(socket, used, each)];
  const findings = [...duty, ...atPins, ...joins(socket, type), ...heaterPins(socket, type, each)];
  return {
    rows: rowsOf(socket, own, findings),
    ...{ findings, idleSections },
    floatingShields: own
      .filter(({ kind, pin }) => kind === 'shield' && !socket.isWired(pin))
      .map((e) => e.pin),
  };
}

function isIdle(socket: WiredSocket, own: readonly Electrode[], section: string): boolean {
  return own
    .filter(({ kind, section: name }) => circuitKinds.has(kind) && name === section)
    .every(({ pin }) => !socket.isWired(pin));
}

/** What is wrong with one electrode at its pin; null where nothing is. */
function judgeElectrode(socket: WiredSocket, electrode: Electrode): PinFinding | null {
  const { kind, pin } = electrode;
  const bad = (code: PinFinding['code']): PinFinding => ({ code, pins: [pin], electrode });
  if (kind === 'free' || kind === 'absent') return null;
  const wanted = socket.kitElectrodesOn(socket.netOf(pin));
  if (!socket.isWired(pin)) {
    if (kind === 'suppressor grid') return electrode.joinTo === null ? null : bad('open');
    return circuitKinds.has(kind) && !isLeftOpenByKit(socket, electrode) ? bad('open') : null;
  }
  const kinds = new Set(wanted.map((each) => each.kind));
  switch (kind) {
    case 'internal':
      return kinds.has('internal') ? null : bad('internal');
    case 'shield':
      return isQuiet(socket, pin, kinds) ? null : bad('electrode');
    case 'suppressor grid':
      return kinds.has(kind) || kinds.has('cathode') || socket.netOf(pin) === socket.reference
        ? null
        : bad('electrode');
    case 'heater':
    case 'heater tap':
      return kinds.has('heater') || kinds.has('heater tap') ? null : bad('electrode');
    case 'screen':
      // A screen on an anode's wiring makes a triode of it.
      return kinds.has('screen') || kinds.has('anode') ? null : bad('electrode');
    default:
      return kinds.has(kind) ? null : bad('electrode');
  }
}

/** The kit's own type has the same electrode there, and leaves it open too. */
function isLeftOpenByKit(socket: WiredSocket, { kind, pin }: Electrode): boolean {
  return electrodesOf(socket.kitType).some((each) => each.kind === kind && each.pin === pin);
}

/** A shield may lie on what the kit's shield lies on, on the chassis, on a cathode or on the heater's line. */
function isQuiet(socket: WiredSocket, pin: number, kinds: ReadonlySet<ElectrodeKind>): boolean {
  const isOnHeater = [...kinds].some((kind) => heaterKinds.has(kind));
  return kinds.has('shield') || kinds.has('cathode') || isOnHeater || socket.netOf(pin) === socket.reference;
}

/** Sections whose electrodes, each well placed, lie on the wiring of different sections of the kit's type. */
function mixedSections(
  socket: WiredSocket,
  type: ValveType,
  own: readonly Electrode[],
  found: readonly PinFinding[],
): readonly PinFinding[] {
  if (type.sections.length < 2 || socket.kitType.sections.length < 2) return [];
  return type.sections.flatMap(({ name }): readonly PinFinding[] => {
    const electrodes = own.filter(
      ({ kind, section, pin }) => circuitKinds.has(kind) && section === name && socket.isWired(pin),
    );
    if (electrodes.some((each) => found.some(({ electrode }) => electrode === each))) return [];
    const homes = socket.kitType.sections.filter(({ name: home }) =>
      electrodes.every(({ pin, kind }) =>
        socket
          .kitElectrodesOn(socket.netOf(pin))
          .some((there) => there.section === home && (there.kind === kind || kind === 'screen')),
      ),
    );
    if (homes.length > 0 || electrodes.length === 0) return [];
    return [
      { code: 'sections-mixed', pins: electrodes.map(({ pin }) => pin), electrode: electrodes[0] ?? null },
    ];
  });
}

/** Wiring of the kit's type that nothing of the type in hand answers to. */
function missing(
  socket: WiredSocket,
  own: readonly Electrode[],
  found: readonly PinFinding[],
): readonly PinFinding[] {
  const blamed = new Set(found.flatMap(({ pins }) => pins));
  return socket.wiredElectrodes.flatMap((wanted): readonly PinFinding[] => {
    if (!circuitKinds.has(wanted.kind) || blamed.has(wanted.pin)) return [];
    const net = socket.netOf(wanted.pin);
    const there = own.filter(({ pin }) => socket.netOf(pin) === net && socket.isWired(pin));
    const isMet = there.some(({ kind }) => kind === wanted.kind);
    // A pentode used as a triode: its screen and anode are one net, which an anode alone answers to.
    const isTriode =
      wanted.kind === 'screen' && socket.kitElectrodesOn(net).some(({ kind }) => kind === 'anode');
    return isMet || isTriode ? [] : [{ code: 'missing', pins: [wanted.pin], electrode: wanted }];
  });
}

/** Pins that are one inside, of either type, on wiring that takes them for two, or for one. */
function joins(socket: WiredSocket, type: ValveType): readonly PinFinding[] {
  const wired = (group: readonly number[]): readonly number[] => group.filter((pin) => socket.isWired(pin));
  const isApart = (pins: readonly number[]): boolean => new Set(pins.map(socket.netOf)).size > 1;
  const has = (of: ValveType, pins: readonly number[]): boolean =>
    (of.joinedPins ?? []).some((group) => pins.every((pin) => group.includes(pin)));
  const shorts = (type.joinedPins ?? []).map(wired).filter(isApart);
  const lost = (socket.kitType.joinedPins ?? []).map(wired).filter(isApart);
  return [
    ...shorts
      .filter((pins) => !has(socket.kitType, pins))
      .map((pins) => ({ code: 'join' as const, pins, electrode: null })),
    ...lost
      .filter((pins) => !has(type, pins))
      .map((pins) => ({ code: 'join-lost' as const, pins, electrode: null })),
  ];
}

/** A heater that none of its hook-ups lets glow from where this socket's heater is fed. */
function heaterPins(
  socket: WiredSocket,
  type: ValveType,
  found: readonly PinFinding[],
): readonly PinFinding[] {
  const feed = hookUpIn(socket, socket.kitType);
  const blamed = found.some(({ electrode }) => electrode !== null && heaterKinds.has(electrode.kind));
  // A kit that feeds its heaters in another way than the catalogue's hook-ups is left to the solved circuit.
  if (!feed || blamed || type.heater.elements.length === 0) return [];
  const own = hookUpIn(socket, type);
  if (own && own.nets.every((net) => feed.nets.includes(net))) return [];
  const pins = [...new Set(type.heater.elements.flatMap((wire) => wire.pins))].filter((pin) => pin > 0);
  return [{ code: 'heater-pins', pins: pins.sort((a, b) => a - b), electrode: null }];
}

/** The kinds at a pin, whichever section they belong to: like sections may be exchanged. */
function kindsAt(electrodes: readonly Electrode[], pin: number): string {
  const here = electrodes.filter(
    (each) => each.pin === pin && each.kind !== 'free' && each.kind !== 'absent',
  );
  return here
    .map(({ kind }) => kind)
    .sort()
    .join(' ');
}

function rowsOf(
  socket: WiredSocket,
  own: readonly Electrode[],
  findings: readonly PinFinding[],
): readonly Omit<PinRow, 'volts' | 'isAlternating'>[] {
  const kitElectrodes = electrodesOf(socket.kitType);
  const blamed = new Set(findings.flatMap(({ pins }) => pins));
  return socket.pins.map((pin) => {
    const wiredFor = socket.isWired(pin) ? pinWords(kitElectrodes, pin) : 'nothing';
    const has = pinWords(own, pin);
    const net = socket.isWired(pin) ? socket.netOf(pin) : null;
    const isSame = kindsAt(own, pin) === kindsAt(kitElectrodes, pin);
    return { pin, wiredFor, has, net, fit: blamed.has(pin) ? 'differs' : isSame ? 'same' : 'harmless' };
  });
}
