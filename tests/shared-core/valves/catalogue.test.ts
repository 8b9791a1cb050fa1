import { describe, expect, it } from 'vitest';
import { findValveBase } from '../../../shared-core/valves/bases.ts';
import { findValveType, valveTypes } from '../../../shared-core/valves/index.ts';
import { sectionDevice, sectionFigures } from '../../../shared-core/valves/section-law.ts';
import { filamentMiddle, ratingUnits, type ValveType } from '../../../shared-core/valves/valve-type.ts';

const named = valveTypes.map((type) => ({ name: type.name, type }));

/** Every pin a type names, each with what it is for. */
function pinUses(type: ValveType): readonly { pin: number; use: string }[] {
  return [
    ...type.sections.flatMap((section) =>
      Object.entries(section.pins).map(([use, pin]) => ({ pin, use: `${use} ${section.name}` })),
    ),
    ...type.heater.elements.flatMap(({ pins }) => pins.map((pin) => ({ pin, use: 'heater' }))),
    ...type.otherPins.map(({ pin, role }) => ({ pin, use: role })),
  ].filter(({ pin }) => pin !== filamentMiddle);
}

/** A filament is its own cathode: no insulation between them is rated. */
function requiredRatings(type: ValveType): readonly string[] {
  if (type.rectifier !== null) return ['inversePeakVolts', 'peakAnodeAmps', 'dcAmps'];
  if (type.stabiliser) return ['leastAnodeAmps', 'mostAnodeAmps'];
  const amplifier = ['anodeVolts', 'anodeWatts'];
  return type.heater.heating === 'direct' ? amplifier : [...amplifier, 'heaterCathodeVolts'];
}

function sources(type: ValveType): readonly string[] {
  return [
    type.pinSource,
    type.heater.source,
    type.heater.warmUpSource,
    type.spread.source,
    ...[type.rectifier, type.stabiliser].flatMap((limits) => (limits ? [limits.source] : [])),
    ...type.sections.map((section) => section.parameterSource),
    ...[
      ...type.ratings,
      ...type.characteristics,
      ...type.operations,
      ...type.charts,
      ...type.modelRegions,
    ].map(({ source }) => source),
  ];
}

describe.each(named)('valve type $name', ({ type }) => {
  it('uses every pin of its base, and none outside it', () => {
    const base = findValveBase(type.base);
    const used = new Set(pinUses(type).map(({ pin }) => pin));
    const all = Array.from({ length: base!.pins }, (_, index) => index + 1);
    expect([...used].sort((one, other) => one - other)).toEqual(all);
  });

  it('gives a pin to one thing only, but for a cathode shared by anodes or joined to the heater', () => {
    const uses = new Map<number, Set<string>>();
    for (const { pin, use } of pinUses(type)) uses.set(pin, (uses.get(pin) ?? new Set()).add(use));
    for (const [pin, set] of uses) {
      const others = [...set].filter((use) => !(type.rectifier !== null && /^cathode|^heater/.test(use)));
      expect(others.length, `pin ${pin}: ${[...set].join(', ')}`).toBeLessThanOrEqual(1);
    }
  });

  it('wires every pin of its device and sets only parameters that the device has, inside their range', () => {
    for (const section of type.sections) {
      const device = sectionDevice(section);
      expect(Object.keys(section.pins).sort()).toEqual([...device.pins].sort());
      for (const [name, value] of Object.entries(section.parameters)) {
        const parameter = device.parameters.find((each) => each.name === name);
        expect(parameter, name).toBeDefined();
        expect(value, name).toBeGreaterThanOrEqual(parameter!.range[0]);
        expect(value, name).toBeLessThanOrEqual(parameter!.range[1]);
      }
    }
  });

  it('feeds its whole heater, with the same watts, in every hook-up', () => {
    const watts = type.heater.elements.reduce((sum, { volts, amps }) => sum + volts * amps, 0);
    const pins = new Set(type.heater.elements.flatMap((each) => each.pins));
    expect(type.heater.hookups.length > 0).toBe(type.heater.heating !== 'none');
    for (const { name, volts, amps, sides } of type.heater.hookups) {
      expect(volts * amps, name).toBeCloseTo(watts, 9);
      for (const pin of sides.flat()) expect(pins.has(pin), `pin ${pin}`).toBe(true);
    }
  });

  it('states the ratings that a build is judged by, in SI units', () => {
    const stated = type.ratings.map(({ what }) => what);
    expect(stated).toEqual(expect.arrayContaining([...requiredRatings(type)]));
    for (const { what, unit, value } of type.ratings) {
      expect(unit).toBe(ratingUnits[what]);
      expect(value).toBeGreaterThan(0);
    }
  });

  it('says where every figure is from', () => {
    for (const source of sources(type)) expect(source.trim().length).toBeGreaterThan(2);
  });

  it('has a finite, monotonic model over its ratings', () => {
    const limit = (what: string): number => type.ratings.find((each) => each.what === what)?.value ?? 0;
    const top = limit('anodeVolts') || (type.stabiliser ? type.stabiliser.regulatedVolts[1] : 60);
    const changes: Readonly<Record<string, number>> = type.stabiliser ? { lit: 1 } : {};
    for (const section of type.sections) {
      let last = 0;
      for (let anodeVolts = 0; anodeVolts <= top; anodeVolts += top / 20) {
        const { anodeAmps } = sectionFigures(
          section,
          { anodeVolts, screenVolts: limit('screenVolts'), gridVolts: -2 },
          changes,
        );
        expect(Number.isFinite(anodeAmps)).toBe(true);
        expect(anodeAmps).toBeGreaterThanOrEqual(last);
        last = anodeAmps;
      }
      expect(last).toBeGreaterThan(0);
    }
  });
});

describe('findValveType', () => {
  it('finds European and American names of one valve, capitals or not', () => {
    expect(findValveType('12AX7')?.name).toBe('ECC83');
    expect(findValveType(' ecc83 ')?.name).toBe('ECC83');
    expect(findValveType('6ca4')?.name).toBe('EZ81');
    expect(findValveType('5AR4')?.name).toBe('GZ34');
  });

  it('finds nothing for a type it does not have', () => {
    expect(findValveType('ECC99')).toBeUndefined();
  });

  it('never lists a name twice', () => {
    const names = valveTypes.flatMap((type) => [type.name, ...type.synonyms]);
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(findValveType(name)).toBeDefined();
  });
});
