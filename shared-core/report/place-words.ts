import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Measure, Part, Place, Reading } from '../kit/kit.ts';

/** The place a reading's address stands for: a net's name leads to its safest place. */
export function placeOf(kit: ChosenKit, address: Place): Place {
  return kit.nets[address] ?? address;
}

/** A place in the builder's words: "pin 3 of V2", "tag 7 of TS3", "the earth pin of the inlet". */
export function placeWords(kit: ChosenKit, address: Place): string {
  if (address === 'chassis') return 'the chassis, bare metal';
  const place = placeOf(kit, address);
  const [id = '', ...rest] = place.split('.');
  const end = rest.join('.');
  if (id === 'inlet') return `the ${end} pin of the inlet`;
  const part = kit.parts.find((each) => each.id === id);
  return part === undefined ? place : `${endWords(part, end)} ${id}`;
}

function endWords(part: Part, end: string): string {
  switch (part.kind) {
    case 'valve':
      return `pin ${end} of`;
    case 'tag-strip':
      return `tag ${end} of`;
    case 'potentiometer':
      return end === 'wiper' ? 'the wiper of' : `the ${end === 'cw' ? 'clockwise' : 'anticlockwise'} tag of`;
    case 'mains-transformer':
    case 'output-transformer':
      return `the ${end.replace('.', ' ')} lead of`;
    case 'capacitor':
      return end === '+' || end === '1' ? 'the plus end of' : 'the minus end of';
    default:
      return `${end} of`;
  }
}

/** Where the leads go. */
export function leadWords(kit: ChosenKit, { at, against, measure }: Reading): string {
  const red = placeWords(kit, at);
  if (measure === 'gain') return `Measure the output at ${red}.`;
  const black = against === 'gnd' ? `${placeWords(kit, 'gnd')}, the signal earth` : placeWords(kit, against);
  return `Red lead on ${red}, black lead on ${black}.`;
}

const voltRanges = [2, 20, 200, 600, 1000];
const ohmRanges = [200, 2e3, 20e3, 200e3, 2e6, 20e6];

/**
 * What to set the meter to: "20 V DC", "lowest ohms range".
 *
 * @param most The largest figure that the meter has to show, in the reading's SI unit; null when not known.
 */
export function rangeWords(measure: Measure, most: number | null): string {
  switch (measure) {
    case 'dc volts':
    case 'ac volts': {
      const kind = measure === 'dc volts' ? 'DC' : 'AC';
      const range = voltRanges.find((each) => most !== null && each >= Math.abs(most));
      return range === undefined ? `${kind} volts, highest range` : `${range}\u202fV ${kind}`;
    }
    case 'ohms': {
      const range = ohmRanges.find((each) => most !== null && each >= most);
      if (range === undefined) return 'highest ohms range';
      return range === 200 ? 'lowest ohms range' : `${ohmWords(range)} range`;
    }
    case 'insulation':
      return '500\u202fV insulation tester';
    default:
      return 'AC volts, output and input';
  }
}

function ohmWords(ohms: number): string {
  return ohms >= 1e6 ? `${ohms / 1e6}\u202fMΩ` : `${ohms / 1e3}\u202fkΩ`;
}
