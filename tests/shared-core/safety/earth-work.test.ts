import { describe, expect, test } from 'vitest';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { deriveFacts } from '../../../shared-core/safety/derive-facts.ts';
import { enter, proveDead } from '../../helpers/journey.ts';
import { scriptSafety, type ScriptedSafety } from '../../helpers/scripted-safety.ts';
import { asStated, chooseHeron } from '../prediction/heron.ts';

const { chosen } = chooseHeron();
const facts = deriveFacts({
  ...{ chosen, kitHash: 'abc', bench: plainBench, fitted: asStated },
  predictions: chosen.conditions.flatMap(
    ({ id }) => predictNominal(chosen, id, plainBench, asStated)?.prediction ?? [],
  ),
  drain: predictDrain(chosen, plainBench, asStated),
});

/** An assembled Heron, proven dead, its earth bond and primary read. */
function proven(): ScriptedSafety {
  const amp = scriptSafety({ facts, startedFrom: 'assembled' });
  proveDead(amp);
  enter(amp, 'earth-bond', { value: 0.3 });
  enter(amp, 'primary', { value: 28 });
  return amp;
}

const work = (...places: string[]) => ({ what: 'joint', places, mainsSide: false, soldering: true });

function isStillProven(amp: ScriptedSafety): boolean | undefined {
  return amp.safety().readings['earth-bond']?.counts;
}

describe('work on the mains side asks for the whole cold gate again, whatever it was called', () => {
  test.each(['inlet.earth', 'inlet.line', 'F1.b', 'S1.b1', 'T1.primary.a'])('at %s', (place) => {
    const amp = proven();
    expect(isStillProven(amp)).toBe(true);
    amp.do('work-inside', work(place));
    expect(isStillProven(amp)).toBe(false);
    expect(amp.safety().readings['primary']?.counts).toBe(false);
  });

  test('not work elsewhere, and not on the signal earth', () => {
    const amp = proven();
    amp.do('work-inside', work('TS3.8', 'V2.3'));
    expect(isStillProven(amp)).toBe(true);
  });

  test('the step that wires the earth of the inlet, done again', () => {
    const amp = proven();
    amp.do('step-reopened', { step: 'wire-earth', why: 'loose' });
    for (const item of [0, 1]) amp.do('step-ticked', { step: 'wire-earth', item, ticked: true });
    amp.do('step-done', { step: 'wire-earth' });
    expect(isStillProven(amp)).toBe(false);
  });
});

describe('a repair', () => {
  const cathode = { readings: ['v2-cathode'], what: 'C6 soldered again' };
  const asked = (places?: readonly string[]): readonly string[] => {
    const amp = proven();
    amp.do('repaired', { ...cathode, ...(places === undefined ? {} : { places }) });
    return amp.safety().afterWork?.readings ?? [];
  };
  const beside = (place: string): readonly string[] => facts.coldReadingsOf[facts.netOf[place] ?? ''] ?? [];

  test('asks for the cold ohms of every net touched and its neighbours, and of the reading’s own', () => {
    const touched = asked(['V1.3', 'C6.-']);
    expect(beside('V1.3').filter((id) => !beside('V2.3').includes(id)).length).toBeGreaterThan(0);
    expect(touched).toEqual(
      expect.arrayContaining([...beside('V1.3'), ...beside('C6.-'), ...beside('V2.3')]),
    );
    expect(touched).not.toEqual(expect.arrayContaining([...beside('TS1.1')]));
  });

  test('asks for all cold ohms where it cannot be said what was touched', () => {
    const all = Object.values(facts.coldReadingsOf).flat();
    for (const places of [[], ['TS9.9'], ['V1.3', 'TS9.9']]) {
      expect(asked(places)).toEqual(expect.arrayContaining(all));
    }
  });

  test('asks for no less than before in a journal that names no places', () => {
    expect(new Set(asked())).toEqual(new Set([...beside('V2.3'), ...facts.htToChassis]));
  });

  test('asks for the whole cold gate when a place touched is on the mains side', () => {
    const amp = proven();
    amp.do('repaired', { ...cathode, places: ['V1.3', 'inlet.earth'] });
    expect(isStillProven(amp)).toBe(false);
    expect(amp.safety().readings['primary']?.counts).toBe(false);
  });
});
