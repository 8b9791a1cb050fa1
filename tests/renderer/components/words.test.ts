import { describe, expect, it } from 'vitest';
import { entryWords, readTyped } from '../../../renderer/components/measure-words.ts';
import { bandsOf, partFigures, partMarking } from '../../../renderer/components/part-words.ts';
import { leadWords, placeWords, rangeWords } from '../../../shared-core/report/place-words.ts';
import { clockWords, dateWords, durationWords } from '../../../renderer/components/time-words.ts';
import type { Part } from '../../../shared-core/kit/kit.ts';
import { heronKit } from '../helpers/heron-kit.ts';

function part(id: string): Part {
  const found = heronKit.parts.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no ${id}`);
  return found;
}

describe('places in words', () => {
  it.each([
    ['V2.7', 'pin 7 of V2'],
    ['b1', 'tag 3 of TS1'],
    ['inlet.earth', 'the earth pin of the inlet'],
    ['chassis', 'the chassis, bare metal'],
    ['P1.wiper', 'the wiper of P1'],
  ])('%s is %s', (place, words) => {
    expect(placeWords(heronKit, place)).toBe(words);
  });

  it('name the signal earth where the black lead goes', () => {
    const reading = heronKit.readings.find(({ id }) => id === 'v2-cathode');
    if (reading === undefined) throw new Error('no reading');
    expect(leadWords(heronKit, reading)).toBe(
      'Red lead on tag 7 of TS3, black lead on tag 3 of TS2, the signal earth.',
    );
  });
});

describe('ranges of a meter', () => {
  it.each([
    ['dc volts', 12, '20\u202fV DC'],
    ['ac volts', 387, '600\u202fV AC'],
    ['dc volts', 440, '600\u202fV DC'],
    ['dc volts', null, 'DC volts, highest range'],
    ['ohms', 105, 'lowest ohms range'],
    ['ohms', 90e3, '200\u202fkΩ range'],
    ['ohms', null, 'highest ohms range'],
  ] as const)('%s up to %s: %s', (measure, most, words) => {
    expect(rangeWords(measure, most)).toBe(words);
  });
});

describe('parts in words', () => {
  it('gives the bands of IEC 60062 and the printed marking of capacitors', () => {
    expect(bandsOf(part('R3'))).toEqual(['brown', 'grey', 'yellow', 'gold']);
    expect(partMarking(part('C1'))).toBe('47uM 450V');
    expect(partFigures(part('F1'))).toBe('T 315\u202fmA L 250\u202fV');
  });

  it('prints the value on a resistor that is too large for bands', () => {
    expect(bandsOf(part('R5'))).toBeNull();
    expect(partMarking(part('R5'))).toBe('220R');
  });
});

describe('entries and times', () => {
  it('says an entry back, and what was not understood', () => {
    expect(readTyped('OL', 'Ω').echo).toBe('OL: beyond the range');
    expect(readTyped('0,245 kV', 'V').echo).toBe('245\u202fV');
    expect(readTyped('1e3', 'V').error).toContain('Expected a value in V');
    expect(entryWords({ kind: 'value', value: 0.25 }, 'Ω')).toBe('0.25\u202fΩ');
  });

  it('writes lengths of time for the bar', () => {
    expect(durationWords(48.9)).toBe('48\u202fs');
    expect(durationWords(252)).toBe('4\u202fmin 12\u202fs');
    expect(durationWords(3900)).toBe('1\u202fh 05\u202fmin');
    expect(durationWords(-3)).toBe('0\u202fs');
  });

  it('writes a dash for a time that is none', () => {
    expect(clockWords('never')).toBe('—');
    expect(dateWords(null)).toBe('—');
  });
});
