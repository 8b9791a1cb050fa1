import type { BuildState } from '../journal/build-state.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Reading, ValvePart } from '../kit/kit.ts';
import { unitOfMeasure } from '../kit/read/to-reading.ts';
import { electrodeNames } from '../drawing/socket-scene.ts';
import type { ReadingPrediction, StorePrediction } from '../prediction/prediction.ts';
import type { ReadingFacts, SafetyFacts } from '../safety/facts.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { Unit } from '../units/unit.ts';
import { findValveBase } from '../valves/bases.ts';
import type { ValveBase } from '../valves/bases.ts';
import { findValveType } from '../valves/index.ts';
import { placeWords, rangeWords } from './place-words.ts';
import { largestFigure } from './stop-words.ts';
import { dayAndTime, duration, entryWords } from './words.ts';

/** One printed page to lie beside the chassis: where everything is measured, with blanks to write in. */
export interface BenchCard {
  readonly title: string;
  readonly maker: string;
  readonly recordedAt: string;
  /** Short lines under the title. */
  readonly head: readonly string[];
  readonly groups: readonly CardGroup[];
  readonly safeWords: string;
  readonly stores: readonly CardStore[];
  readonly sockets: readonly CardSocket[];
}

/** The readings of one condition. */
export interface CardGroup {
  readonly title: string;
  readonly readings: readonly CardReading[];
}

export interface CardReading {
  /** Its number on the card, from 1. */
  readonly number: number;
  readonly title: string;
  /** "pin 3 of V2 to chassis": the red lead's place first; the black lead is on the signal earth where one is named. */
  readonly leads: string;
  /** "20 V DC" */
  readonly range: string;
  /** "stop above 12 V or below −1 V"; null where there is none. */
  readonly stop: string | null;
  /** What was measured and still counts; null for a blank. */
  readonly taken: string | null;
  readonly unit: string;
}

export interface CardStore {
  readonly part: string;
  readonly title: string;
  readonly leads: string;
  readonly most: string;
  /** When measuring is worth it, after the plug is out. */
  readonly worth: string;
}

export interface CardSocket {
  readonly part: string;
  /** "EL84, B9A" */
  readonly type: string;
  readonly base: ValveBase;
  readonly gapFaces: number;
  /** "1 grid" and so on, in the order of the pins. */
  readonly pins: readonly string[];
}

/** What a card is made of. */
export interface CardSource {
  readonly kit: ChosenKit;
  readonly facts: SafetyFacts;
  readonly build: BuildState;
  /** Only for the range of the meter: no band stands on the card, so that none is known before its first number. */
  readonly expected: readonly ReadingPrediction[];
}

/** The bench card of a build. */
export function makeBenchCard(source: CardSource): BenchCard {
  const { kit, facts, build } = source;
  return {
    title: `${kit.name}, bench card`,
    maker: kit.maker,
    recordedAt: build.lastAt ?? build.startedAt ?? '1970-01-01T00:00:00.000Z',
    head: headLines(source),
    groups: cardGroups(source),
    safeWords: `below ${formatQuantity(facts.safeVolts, 'V')}`,
    stores: facts.stores.map((store) => cardStore(kit, store)),
    sockets: kit.parts.flatMap((part) => (part.kind === 'valve' ? cardSocket(source, part) : [])),
  };
}

function headLines({ kit, build }: CardSource): readonly string[] {
  const { bench } = build;
  const options = Object.values(build.choices).join(', ');
  const mains =
    bench === null
      ? 'bench not recorded'
      : `mains ${formatQuantity(bench.mains.volts, 'V')} ${bench.mains.source}, meter ${bench.meter.label}`;
  return [
    [`revision ${build.revision}`, options, `build ${build.build.slice(0, 8)}`]
      .filter((each) => each !== '')
      .join(' · '),
    `Red lead at the first place named, black lead at the second; where one is named, black is on the signal earth, ${placeWords(kit, 'gnd')}.`,
    `${mains} · as of ${dayAndTime(build.lastAt)} UTC · ${kit.maker}`,
  ];
}

function cardGroups(source: CardSource): readonly CardGroup[] {
  const { kit } = source;
  let number = 0;
  return kit.conditions.flatMap(({ id, title }) => {
    const readings = kit.readings
      .filter((reading) => reading.in === id)
      .map((reading) => cardReading(source, reading, (number += 1)));
    return readings.length === 0 ? [] : [{ title, readings }];
  });
}

const noLimits: Pick<ReadingFacts, 'stopAbove' | 'stopBelow'> = { stopAbove: null, stopBelow: null };

function cardReading(source: CardSource, reading: Reading, number: number): CardReading {
  const { facts, build, expected } = source;
  const limits = facts.readings.find(({ id }) => id === reading.id) ?? noLimits;
  const own = expected.find(({ id }) => id === reading.id) ?? null;
  const unit = unitOfMeasure(reading.measure);
  const record = build.readings[reading.id];
  const last = record?.counts === true ? record.entries.at(-1) : undefined;
  return {
    number,
    title: reading.title,
    leads: leadsOf(source.kit, reading),
    range: rangeWords(reading.measure, largestFigure(limits, own)),
    stop: shortStop(limits, unit),
    taken: last === undefined ? null : entryWords(last.entry, unit),
    unit,
  };
}

/** Stop limits with their signs, in few words. */
function shortStop({ stopAbove, stopBelow }: typeof noLimits, unit: Unit): string | null {
  const words = [
    ...(stopAbove === null ? [] : [`above ${formatQuantity(stopAbove, unit, 3)}`]),
    ...(stopBelow === null ? [] : [`below ${formatQuantity(stopBelow, unit, 3)}`]),
  ];
  return words.length === 0 ? null : `stop ${words.join(' or ')}`;
}

function leadsOf(kit: ChosenKit, { at, against, measure }: Reading): string {
  if (measure === 'gain') return `Output at ${placeWords(kit, at)}`;
  const red = placeWords(kit, at);
  if (against === 'gnd') return red;
  return `${red} to ${against === 'chassis' ? 'chassis' : placeWords(kit, against)}`;
}

function cardStore(kit: ChosenKit, store: StorePrediction): CardStore {
  const title = kit.parts.find(({ id }) => id === store.part)?.title ?? '';
  return {
    part: store.part,
    title,
    leads: `${placeWords(kit, store.plus)} to ${placeWords(kit, store.minus)}`,
    most: formatQuantity(store.volts, 'V', 3),
    worth: store.likelySeconds === null ? 'no computed time' : `after ${duration(store.likelySeconds)}`,
  };
}

function cardSocket({ kit, build }: CardSource, part: ValvePart): readonly CardSocket[] {
  const base = findValveBase(part.socket.base);
  const type = findValveType(build.fitted.valves[part.id] ?? part.type, kit.valves);
  if (base === undefined || type === undefined) return [];
  const names = electrodeNames(type);
  const pins = Array.from(
    { length: base.pins },
    (_, index) => `${index + 1} ${names[index + 1] ?? 'no pin'}`,
  );
  return [
    {
      ...{ part: part.id, type: `${type.name}, ${base.name}`, base, gapFaces: part.socket.gapFaces, pins },
    },
  ];
}
