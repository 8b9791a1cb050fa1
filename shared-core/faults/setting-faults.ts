import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition } from '../kit/kit.ts';
import type { BuiltKit, Fault } from './fault.ts';
import { replacePart } from './fault.ts';

/** A control at one end when it should be at the other: nearer than this to an end counts as that end. */
const nearEnd = 0.25;

/** What is wrong outside the solder: loads, controls, inputs, switches, the mains setting. */
export function settingFaults(chosen: ChosenKit): readonly Fault[] {
  return [
    ...chosen.conditions.flatMap((condition) => [
      ...missingLoads(condition),
      ...wrongControls(condition),
      ...openInputs(chosen, condition),
      ...forgottenSwitches(chosen, condition),
    ]),
    ...wrongMains(chosen),
  ];
}

function setting(part: string, kind: string, words: string, build: Fault['build']): Fault {
  return { part, kind, sort: 'setting', words, places: [part], build };
}

function inCondition(built: BuiltKit, id: string, change: Partial<Condition>): BuiltKit {
  const conditions = built.chosen.conditions.map((each) => (each.id === id ? { ...each, ...change } : each));
  return { ...built, chosen: { ...built.chosen, conditions } };
}

function missingLoads({ id, loads, title }: Condition): readonly Fault[] {
  return Object.keys(loads).map((jack) => {
    const others = Object.fromEntries(Object.entries(loads).filter(([each]) => each !== jack));
    return setting(jack, `load missing in ${id}`, `no load on ${jack} (${title})`, (built) =>
      inCondition(built, id, { loads: others }),
    );
  });
}

function wrongControls({ id, controls, title }: Condition): readonly Fault[] {
  return Object.entries(controls).flatMap(([control, position]): readonly Fault[] => {
    if (position > nearEnd && position < 1 - nearEnd) return [];
    const other = position <= nearEnd ? 1 : 0;
    const words = `${control} stands at the wrong end (${title})`;
    return [
      setting(control, `at the wrong end in ${id}`, words, (built) =>
        inCondition(built, id, { controls: { ...controls, [control]: other } }),
      ),
    ];
  });
}

function openInputs({ parts }: ChosenKit, { id, input, title }: Condition): readonly Fault[] {
  if (input !== 'shorted') return [];
  const jack = parts.find((part) => part.kind === 'jack' && part.role === 'input');
  if (!jack) return [];
  return [
    setting(jack.id, `input open in ${id}`, `the input ${jack.id} is not shorted (${title})`, (built) =>
      inCondition(built, id, { input: 'open' }),
    ),
  ];
}

/** A standby or other switch left off; with the mains switch off nothing is measured at all. */
function forgottenSwitches({ parts }: ChosenKit, { id, switches, title }: Condition): readonly Fault[] {
  return Object.entries(switches).flatMap(([name, position]): readonly Fault[] => {
    const part = parts.find((each) => each.id === name);
    if (part?.kind !== 'switch' || part.role === 'mains') return [];
    const other = position === 'on' ? 'off' : 'on';
    return [
      setting(name, `${other} in ${id}`, `${name} is ${other} (${title})`, (built) =>
        inCondition(built, id, { switches: { ...switches, [name]: other } }),
      ),
    ];
  });
}

/** Mains voltages of the world that a primary may be set to by mistake: IEC 60038, table 1, and 240 V. */
const mainsVoltages = [100, 120, 220, 230, 240];

/** A primary wired or set for another mains voltage: every winding is off by the same share. */
function wrongMains({ parts }: ChosenKit): readonly Fault[] {
  return parts.flatMap((part): readonly Fault[] => {
    if (part.kind !== 'mains-transformer') return [];
    return mainsVoltages
      .filter((volts) => Math.abs(volts / part.primary.volts - 1) > 0.02)
      .map((volts) => {
        const words = `the primary of ${part.id} is set or wired for ${volts} V`;
        return setting(part.id, `primary set for ${volts} V`, words, (built) =>
          replacePart(built, part.id, [{ ...part, primary: { ...part.primary, volts } }], false),
        );
      });
  });
}
