import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { allChoices, chooseKit, defaultChoices } from '../../../shared-core/kit/choose-kit.ts';
import type { Kit } from '../../../shared-core/kit/kit.ts';
import { computeNets } from '../../../shared-core/kit/nets.ts';
import { readKit, readKitFile } from '../../../shared-core/kit/read-kit.ts';
import { pathOfItem, positionOf } from '../../../shared-core/kit/source.ts';
import { highTensionStores, stores } from '../../../shared-core/kit/stores.ts';
import { patch, positionIn, smallKit } from '../../fixtures/kits/patch.ts';

function kitOf(text: string): Kit {
  const result = readKit(text, 'kit.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}

function chosenOf(text: string, choices = {}): ChosenKit {
  const result = chooseKit(kitOf(text), choices);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}

describe('reading the small kit', () => {
  const kit = kitOf(smallKit);
  const partOf = (id: string) => kit.parts.find((part) => part.id === id);

  test('turns values into SI units', () => {
    const tolerance = { low: -0.2, high: 0.5 };
    expect(partOf('C1')).toMatchObject({ farads: 47e-6, volts: 450, tolerance, between: ['TS1.1', 'TS1.6'] });
    expect(partOf('R1')).toMatchObject({ ohms: 180e3, watts: 2, tolerance: { low: -0.05, high: 0.05 } });
    expect(partOf('F1')).toMatchObject({ amps: 0.315, speed: 'T', breaking: 'L' });
    expect(kit.leads.find(({ id }) => id === 'W2')?.metres).toBe(0.06);
    expect(kit.chassis).toEqual({ width: 200, depth: 120 });
    const running = kit.conditions.find(({ id }) => id === 'running');
    expect(running).toMatchObject({ readyAfterSeconds: 120, loads: { J2: 8 }, controls: { P1: 0.5 } });
    expect(kit.readings.find(({ id }) => id === 'cathode')).toMatchObject({
      against: 'gnd',
      stopAbove: 15,
      repeatAfterSeconds: [300],
    });
  });

  test('takes 225-0-225 V for a centre-tapped winding with one resistance for each half', () => {
    const transformer = partOf('T1');
    expect(transformer?.kind === 'mains-transformer' && transformer.windings[0]).toEqual({
      name: 'ht',
      volts: 225,
      centreTapped: true,
      amps: 0.065,
      dcrOhms: [105, 110],
    });
  });

  test('gives each step the reach of what is done in it', () => {
    const reaches = kit.chapters.flatMap(({ steps }) => steps.map(({ id, reach }) => `${id} ${reach}`));
    for (const wanted of [
      'gather-all outside',
      'wire-mains inside',
      'read-fuse inside',
      'read-cold inside',
      'lamp-on outside',
      'lamp-read probe',
      'run-read probe',
      'sign-off outside',
    ]) {
      expect(reaches).toContain(wanted);
    }
  });

  test('is plain data', () => {
    expect(JSON.parse(JSON.stringify(kit))).toEqual(kit);
    expect(structuredClone(kit)).toEqual(kit);
  });

  test('keeps where each item stands, variants apart', () => {
    const result = readKitFile(smallKit, 'kit.yaml');
    if (!result.ok) throw new Error('the small kit was refused');
    const { source } = result.value;
    const second = kit.parts.find((part) => part.id === 'T1' && part.when['mains'] === '120 V 60 Hz');
    const path = second && pathOfItem(source, 'parts', second);
    expect(path).toBe('parts.T1.1');
    expect(positionOf(source, `${path}.primary.dcr`)).toEqual({
      file: 'kit.yaml',
      ...positionIn(smallKit, '7.6 }'),
    });
    expect(positionOf(source, 'parts.R1.not-there', 'key').line).toBe(positionIn(smallKit, 'R1: {').line);
  });
});

describe('choosing', () => {
  test('takes the first choice of every option unless told otherwise', () => {
    expect(defaultChoices(kitOf(smallKit))).toEqual({ mains: '230 V 50 Hz' });
    const volts = (choices: object) => {
      const part = chosenOf(smallKit, choices).parts.find(({ id }) => id === 'T1');
      return part?.kind === 'mains-transformer' && part.primary.volts;
    };
    expect(volts({})).toBe(230);
    expect(volts({ mains: '120 V 60 Hz' })).toBe(120);
  });

  test('has one variant of each part for every combination', () => {
    const kit = kitOf(smallKit);
    expect(allChoices(kit)).toHaveLength(2);
    for (const choices of allChoices(kit)) {
      const ids = chosenOf(smallKit, choices).parts.map(({ id }) => id);
      expect(new Set(ids).size).toBe(ids.length);
    }
  });

  test('refuses options and choices that are not there, with a hint', () => {
    const option = chooseKit(kitOf(smallKit), { mians: '230 V 50 Hz' });
    expect(!option.ok && option.problems[0]).toMatchObject({
      code: 'kit/unknown-option',
      hint: 'Did you mean "mains"?',
    });
    const choice = chooseKit(kitOf(smallKit), { mains: '100 V' });
    expect(!choice.ok && choice.problems[0].code).toBe('kit/unknown-choice');
  });
});

describe('nets', () => {
  const { netOf, placesOf } = chosenOf(smallKit);

  test('follow leads, shared places, earthed tags and the inlet', () => {
    expect(netOf['V2.3']).toBe('b1');
    expect(netOf['T2.primary.a']).toBe('b1');
    expect(netOf['X1.line']).toBe(netOf['F1.a']);
    expect(netOf['inlet.line']).toBe(netOf['F1.a']);
    expect(netOf['inlet.earth']).toBe('gnd');
    expect(netOf['chassis']).toBe('gnd');
    expect(netOf['V1.5']).toBe('gnd');
    expect(netOf['V1.9']).not.toBe('b1');
  });

  test('are found by label and by the own end of a part', () => {
    expect(netOf['b1']).toBe('b1');
    expect(netOf['gnd']).toBe('gnd');
    expect(netOf['C1.+']).toBe('b1');
    expect(netOf['C1.-']).toBe('gnd');
    expect(netOf['R2.2']).toBe(netOf['V1.9']);
  });

  test('without a label are named after their first place, as people count', () => {
    expect(placesOf['P1.wiper']).toEqual(['P1.wiper', 'V1.2']);
    expect(netOf['V1.2']).toBe('P1.wiper');
    expect(placesOf['b1']).toEqual(['T2.primary.a', 'TS1.1', 'V2.3']);
  });

  test('do not depend on the order of leads and parts', () => {
    const kit = kitOf(smallKit);
    const parts = kit.parts.filter(({ when }) => when['mains'] !== '120 V 60 Hz');
    const straight = computeNets({ parts, leads: kit.leads, nets: kit.nets });
    const shuffled = fc.tuple(
      fc.shuffledSubarray([...parts], { minLength: parts.length }),
      fc.shuffledSubarray([...kit.leads], { minLength: kit.leads.length }),
    );
    fc.assert(
      fc.property(shuffled, ([someParts, someLeads]) => {
        expect(computeNets({ parts: someParts, leads: someLeads, nets: kit.nets })).toEqual(straight);
      }),
      { numRuns: 30 },
    );
  });
});

describe('stores', () => {
  test('are capacitors above the safe voltage and 45 µC: 47 µF at 450 V is one', () => {
    const found = stores(chosenOf(smallKit));
    expect(found).toEqual([
      expect.objectContaining({
        plus: 'TS1.1',
        minus: 'TS1.6',
        volts: 450,
        part: expect.objectContaining({ id: 'C1' }),
      }),
    ]);
  });

  const withFilm = (value: string) =>
    patch(smallKit, [
      [
        'type: electrolytic, value: 47u, tolerance: [-20 %, +50 %]',
        `type: film, value: ${value}, tolerance: 0 %`,
      ],
    ]);

  test('begin above 45 µC: 100 nF at 450 V holds exactly 45 µC and is none, 101 nF is one', () => {
    expect(stores(chosenOf(withFilm('100n')))).toEqual([]);
    expect(stores(chosenOf(withFilm('101n')))).toHaveLength(1);
  });

  test('of a cathode bypass rated 50 V count as stores but not as high tension', () => {
    const chosen = chosenOf(
      patch(smallKit, [
        [
          '  R2: {',
          '  C2: { kind: capacitor, title: "Bypass", type: electrolytic, value: 220u, tolerance: 20 %, rating: 50 V, between: [V1.3, TS1.6] }\n  R2: {',
        ],
      ]),
    );
    expect(stores(chosen).map(({ part }) => part.id)).toEqual(['C1', 'C2']);
    expect(highTensionStores(chosen).map(({ part }) => part.id)).toEqual(['C1']);
  });
});
