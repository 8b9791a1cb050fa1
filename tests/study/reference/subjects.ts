import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Circuit, CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { Choices, Kit } from '../../../shared-core/kit/kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';
import { type Random, seededRandom, seedOfText } from '../../../shared-core/numerics/random.ts';
import {
  elementsIn,
  openCondition,
  plugVolts,
  signalId,
  solveCondition,
} from '../../../shared-core/prediction/condition-model.ts';
import { asInKit, nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';
import { nominalWorld } from '../../../shared-core/prediction/world.ts';
import { singleFaults } from '../../helpers/push-pull.ts';
import { studyCircuits } from '../../reference/circuits/study-circuits.ts';
import { root } from '../../run/child.mjs';

/** One circuit with everything that it is compared at. */
export interface Subject {
  /** What its row of the table is called: a circuit, or one build of a kit. */
  readonly group: string;
  /** The condition of a kit; empty for a circuit. */
  readonly condition: string;
  readonly of: Circuit;
  /** The voltage source that carries small signal; null where nothing does. */
  readonly moved: string | null;
  /** The circuit with everything scattered. */
  readonly sample: (random: Random) => Circuit;
}

/** One circuit to be solved and compared. */
export interface StudyCase {
  readonly kind: 'nominal' | 'sample' | 'fault';
  readonly title: string;
  readonly of: Circuit;
}

/** Half width of the flat scatter of every value of a circuit, and of every quantity of a kit, relative. */
const scatter = 0.05;
/** Beyond this many ohms a resistor stands for a meter that is not there. */
const meterOhms = 1e12;

/** The circuits of tests/reference/circuits. */
export function circuitSubjects(): readonly Subject[] {
  return studyCircuits.map(({ title, of, moved }) => ({
    ...{ group: title, condition: '', of, moved },
    sample: (random) => ({ ...of, elements: of.elements.map((each) => scatterElement(each, random)) }),
  }));
}

/** Every build of every kit in every condition. */
export function kitSubjects(): readonly Subject[] {
  return ['heron', 'wren', 'curlew'].flatMap((id) => {
    const path = join(root, 'kits', id, 'kit.yaml');
    const read = readKit(readFileSync(path, 'utf8'), path);
    if (!read.ok) throw new Error(read.problems[0].message);
    return buildsOf(read.value).flatMap((choices) => buildSubjects(id, read.value, choices));
  });
}

/** Everything that a subject is compared at: nominal, scattered, and with every single fault. */
export function* casesOf(subject: Subject, samples: number): Generator<StudyCase> {
  const { of, group, condition } = subject;
  yield { kind: 'nominal', title: 'nominal', of };
  const random = seededRandom(seedOfText(`${group} ${condition}`));
  for (let index = 0; index < samples; index++) {
    yield { kind: 'sample', title: `sample ${index}`, of: subject.sample(random) };
  }
  for (const { title, elements } of faultsOf(of)) yield { kind: 'fault', title, of: { ...of, elements } };
}

/** Every single fault of a circuit; meters that are not there have none. */
export function faultsOf({ elements }: Circuit): ReturnType<typeof singleFaults> {
  const parts = elements.filter(({ parameters }) => !((parameters['ohms'] ?? 0) > meterOhms));
  return singleFaults(parts);
}

/** Every value that is a physical quantity, moved; counts, states and laws stay. */
function scatterElement(each: CircuitElement, random: Random): CircuitElement {
  const parameters = Object.fromEntries(
    each.device.parameters.flatMap(({ name, unit, initial, range }) => {
      const value = each.parameters[name];
      const factor = 1 + scatter * (2 * random() - 1);
      const isState = unit === '' && range[1] - range[0] <= 5 && !['ex', 'emissionFactor'].includes(name);
      if (isState || name === 'hertz' || name === 'tap') return value === undefined ? [] : [[name, value]];
      const moved = (value ?? initial) * factor;
      return [[name, moved >= range[0] && moved <= range[1] ? moved : (value ?? initial)]];
    }),
  );
  return { ...each, parameters };
}

/** All combinations of the choices of a kit's options. */
function buildsOf({ options }: Kit): readonly Choices[] {
  return options.reduce<readonly Choices[]>(
    (builds, { id, choices }) =>
      builds.flatMap((build) => choices.map((choice) => ({ ...build, [id]: choice }))),
    [{}],
  );
}

function buildSubjects(id: string, kit: Kit, choices: Choices): readonly Subject[] {
  const choice = chooseKit(kit, choices);
  if (!choice.ok) throw new Error(choice.problems[0].message);
  const chosen = choice.value;
  const bench = nominalBench(chosen);
  return chosen.conditions.map((condition): Subject => {
    const heat = condition.supply === 'unplugged' ? 'cold' : 'hot';
    const model = openCondition(chosen, condition, bench, asInKit, heat);
    const volts = plugVolts(condition, bench);
    const { elements, asked } = solveCondition(model, nominalWorld, volts);
    const { reference } = model.context.wiring;
    const quantities = [...asked];
    return {
      group: `${id}, ${Object.values(choices).join(', ')}`,
      condition: condition.id,
      of: { elements, reference },
      moved: condition.input === 'signal' ? signalId : null,
      sample: (random) => {
        const world = Object.fromEntries(quantities.map((each) => [each, scatter * (2 * random() - 1)]));
        return { elements: elementsIn(model, world, volts), reference };
      },
    };
  });
}
