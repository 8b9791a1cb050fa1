import type { ChosenKit } from '../chosen-kit.ts';
import { conductionEdges, reachableNets } from '../conduction.ts';
import type { Condition, GateProof, Reading } from '../kit.ts';
import { primaryEndsOf } from '../transformer-ends.ts';
import { netAt } from './check.ts';

/** VDE 0701-0702 / EN 50678, in service: 0.3 Ω for protective bonding. */
const BOND_OHMS = 0.3;
/** VDE 0701-0702 / EN 50678, class I: 1 MΩ at 500 V DC. */
const INSULATION_OHMS = 1e6;

/**
 * Why a reading does not prove what it claims for the cold gate, or null where it does.
 *
 * A gate that opens on a reading which cannot fail would be no gate.
 */
export function proofFault(
  chosen: ChosenKit,
  reading: Reading,
  condition: Condition | undefined,
): string | null {
  if (reading.proves === null) return null;
  if (!condition) return null;
  const isCold = condition.supply === 'unplugged';
  const isTested = reading.proves === 'insulation' && condition.supply === 'insulation-tester';
  if (!isCold && !isTested) return `it is taken in "${condition.id}", which is not unplugged`;
  const wanted = reading.proves === 'insulation' ? 'insulation' : 'ohms';
  if (reading.measure !== wanted) return `it measures ${reading.measure}, not ${wanted}`;
  return proofRules[reading.proves](chosen, reading, condition);
}

type Rule = (chosen: ChosenKit, reading: Reading, condition: Condition) => string | null;

const proofRules: Readonly<Record<GateProof, Rule>> = {
  'earth-bond': (_, reading) => {
    const places = [reading.at, reading.against].map(inletName);
    if (!places.includes('inlet.earth') || !places.includes('chassis')) {
      return 'it is not between inlet.earth and chassis';
    }
    const limit = reading.expect?.below;
    return limit !== undefined && limit <= BOND_OHMS ? null : `it does not expect below ${BOND_OHMS} ohm`;
  },
  'line-apart': (chosen, reading) => apart(chosen, reading, ['inlet.line']),
  'neutral-apart': (chosen, reading) => apart(chosen, reading, ['inlet.neutral']),
  insulation: (chosen, reading, condition) => {
    const fault = toChassis(chosen, reading, ['inlet.line', 'inlet.neutral']);
    if (fault) return fault;
    if ((reading.expect?.above ?? 0) < INSULATION_OHMS) return 'it does not expect above 1 Mohm';
    return isSwitchedOn(chosen, condition) ? null : 'the mains switch is off, so the primary is not tested';
  },
  primary: (chosen, reading, condition) => {
    const nets = netsOf(chosen, reading);
    const isAcross = ['inlet.line', 'inlet.neutral'].every((place) => nets.includes(netAt(chosen, place)));
    if (!isAcross) return 'it is not between inlet.line and inlet.neutral';
    return isSwitchedOn(chosen, condition) ? null : 'the mains switch is off';
  },
  'windings-apart': (chosen, reading) => {
    if (!reading.expect?.overload) return 'it does not expect OL';
    const isBetween = windingsOf(chosen).some((winding) => separates(chosen, reading, winding));
    return isBetween ? null : 'it is not between the primary and another winding of a mains transformer';
  },
  'store-clear': (chosen, reading) => {
    const nets = netsOf(chosen, reading);
    const isAcross = chosen.parts.some(
      (part) =>
        part.kind === 'capacitor' &&
        nets[0] !== nets[1] &&
        part.between.every((end) => nets.includes(netAt(chosen, end))),
    );
    return isAcross ? null : 'it is not across the two ends of a capacitor';
  },
};

function apart(chosen: ChosenKit, reading: Reading, places: readonly string[]): string | null {
  return toChassis(chosen, reading, places) ?? (reading.expect?.overload ? null : 'it does not expect OL');
}

function toChassis(chosen: ChosenKit, reading: Reading, places: readonly string[]): string | null {
  const nets = netsOf(chosen, reading);
  const isThere = places.some((place) => nets.includes(netAt(chosen, place)));
  const isGround = nets.includes(netAt(chosen, 'chassis'));
  return isThere && isGround ? null : `it is not between ${places.join(' or ')} and chassis`;
}

function netsOf(chosen: ChosenKit, reading: Reading): readonly string[] {
  return [netAt(chosen, reading.at), netAt(chosen, reading.against)];
}

function inletName(place: string): string {
  return /^X\d+[A-Z]?\.(line|neutral|earth)$/.test(place) ? place.replace(/^[^.]+/, 'inlet') : place;
}

/** Whether every mains switch of the kit is on in a condition; true where there is none. */
export function isSwitchedOn(chosen: ChosenKit, condition: Condition): boolean {
  return mainsSwitches(chosen).every((id) => condition.switches[id] === 'on');
}

/** The ids of the mains switches. */
export function mainsSwitches(chosen: ChosenKit): readonly string[] {
  return chosen.parts.flatMap((part) => (part.kind === 'switch' && part.role === 'mains' ? [part.id] : []));
}

/** A winding of a mains transformer other than its primary. */
export interface Winding {
  readonly transformer: string;
  readonly name: string;
}

/** Every winding that the cold gate shows to be apart from the primary. */
export function windingsOf(chosen: ChosenKit): readonly Winding[] {
  return chosen.parts.flatMap((part) =>
    part.kind === 'mains-transformer'
      ? part.windings.map(({ name }) => ({ transformer: part.id, name }))
      : [],
  );
}

/**
 * Whether a reading would show the primary joined to a winding.
 *
 * One probe is on the primary, the other on the winding or on anything that the kit joins to it by copper and
 * resistors alone: a heater winding with its reference to ground is measured at ground as well.
 */
export function separates(chosen: ChosenKit, reading: Reading, { transformer, name }: Winding): boolean {
  const part = chosen.parts.find(({ id }) => id === transformer);
  const primaryEnds = part?.kind === 'mains-transformer' ? primaryEndsOf(part) : [];
  const primary = primaryEnds.map(({ end }) => netAt(chosen, `${transformer}.${end}`));
  const ends = ['a', 'b'].map((end) => netAt(chosen, `${transformer}.${name}.${end}`));
  const solid = conductionEdges(chosen).filter(({ kind }) => kind === 'solid');
  const joined = reachableNets(solid, ends);
  const [one = '', other = ''] = netsOf(chosen, reading);
  const isOpposite = (here: string, there: string) =>
    primary.includes(here) && joined.has(there) && !primary.includes(there);
  return isOpposite(one, other) || isOpposite(other, one);
}
