import { computeBands } from '../../shared-core/bands/predict-bands.ts';
import {
  joinReadings,
  type JointReadings,
  mainsDriftShare,
  repeatability,
} from '../../shared-core/bands/predict-build.ts';
import { meterSpread, readingFloors } from '../../shared-core/bands/draw-readings.ts';
import { quickReadings } from '../../shared-core/bands/quick-readings.ts';
import { SampleBook } from '../../shared-core/bands/sample-book.ts';
import { drawDeviation, type Spread } from '../../shared-core/bands/spread.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Reading } from '../../shared-core/kit/kit.ts';
import { normalDraw, type Random, seededRandom, seedOfText } from '../../shared-core/numerics/random.ts';
import { type Bench, type Fitted, plainBench } from '../../shared-core/prediction/bench.ts';
import {
  type ConditionModel,
  openCondition,
  plugVolts,
  type SolveDepth,
} from '../../shared-core/prediction/condition-model.ts';
import type { ReadingPrediction } from '../../shared-core/prediction/prediction.ts';
import { nominalWorld, type World } from '../../shared-core/prediction/world.ts';
import { findValveType } from '../../shared-core/valves/index.ts';
import { asStated, chooseHeron } from '../shared-core/prediction/heron.ts';

/** Seed of the bands under test; the simulated builds have others. */
const bandSeed = 1;

/** What is judged: a kit's predictions with everything that scatters in it. */
export interface Subject {
  readonly chosen: ChosenKit;
  readonly bench: Bench;
  readonly fitted: Fitted;
  readonly joint: JointReadings;
  /** The computed readings, in the order of the joint, with their bands. */
  readonly readings: readonly Reading[];
  readonly bands: readonly ReadingPrediction[];
  readonly conditions: readonly string[];
  readonly spreads: readonly Spread[];
}

/** Heron on the plain bench: 230 V assumed, 10 MΩ, 1 %. */
export function heronSubject(samples?: number): Subject {
  const { chosen } = chooseHeron();
  const [bench, fitted] = [plainBench, asStated];
  const book = new SampleBook(bandSeed, samples);
  const bands = chosen.conditions.flatMap(({ id }) => {
    const one = computeBands(chosen, id, bench, fitted, book);
    return one && one.moved.length > 0 ? [one] : [];
  });
  const spreads = new Map(bands.flatMap((one) => one.spreads.map((spread) => [spread.quantity, spread])));
  const readings = bands.flatMap(({ moved }) => moved.map(({ reading }) => reading));
  const predictions = new Map(
    bands.flatMap(({ prediction }) => prediction.readings.map((reading) => [reading.id, reading])),
  );
  return {
    ...{ chosen, bench, fitted, readings },
    joint: joinReadings(bands, bench, book),
    bands: readings.map(({ id }) => predictions.get(id)!),
    conditions: bands.map(({ prediction }) => prediction.condition),
    spreads: [...spreads.values()],
  };
}

/** How the valve models of simulated builds are wrong: flat within ± these, per type, relative. */
export const wrongModels: Readonly<Record<string, number>> = { ex: 0.02, kp: 0.2, kvb: 0.2, mu: 0.04 };

/**
 * Which valve models builds are made with: `band` those of the predictions, with their stated error;
 * `wrong` models whose constants are off, in place of that error; `wrong-too` on top of it.
 */
export type Models = 'band' | 'wrong' | 'wrong-too';

/** The readings of one build, in the order of the subject's; NaN for OL and for no figure at all. */
export interface MadeBuild {
  /** As a meter of the stated accuracy shows them, last digit and pick-up included. */
  readonly shown: Float64Array;
  /** The same with the scatter of a single look (0.3 %) on top: what the build as a whole is judged by. */
  readonly looked: Float64Array;
}

/** Builds one after the other; each call gives the next. */
export interface BuildMaker {
  readonly next: () => MadeBuild;
}

/**
 * Makes random builds, each a real operating point in every condition.
 *
 * @param kit The kit as built: another than the subject's where something is wrong with it.
 * @param flaw What is wrong, as deviations of quantities, on top of what scatters.
 * @param depth `full`: the ripple of every build by shooting; `band`: as it is in the first build.
 */
export function openBuilds(
  subject: Subject,
  models: Models,
  seed: number,
  kit: ChosenKit = subject.chosen,
  flaw: World = {},
  depth: SolveDepth = 'band',
): BuildMaker {
  const streams = new Map<string, Random>();
  const randomOf = (name: string): Random => {
    const known = streams.get(name) ?? seededRandom((seed ^ seedOfText(name)) >>> 0);
    streams.set(name, known);
    return known;
  };
  const conditions = subject.conditions.map((id) => openOne(subject, kit, id, depth));
  return {
    next: () => {
      const world = drawWorld(subject, models, randomOf, flaw);
      const shown = new Float64Array(subject.readings.length);
      const looked = new Float64Array(subject.readings.length);
      const kinds = new Map<string, number>();
      let place = 0;
      for (const { id, model, readings, mainsVolts } of conditions) {
        const values = quickReadings(
          model,
          readings,
          driftMains(subject, world, id, randomOf),
          mainsVolts,
        ).values;
        for (const [index, { measure, id: reading }] of readings.entries()) {
          const meter = meterSpread(subject.bench, measure);
          if (!kinds.has(measure)) kinds.set(measure, drawDeviation(meter, randomOf(meter.quantity)));
          const random = randomOf(`look ${reading}`);
          const lead = measure === 'ohms' ? subject.bench.leads.ohms : 0;
          const stray = readingFloors[measure] * (2 * random() - 1) + lead;
          shown[place] = values[index]! * (1 + kinds.get(measure)!) + stray;
          looked[place] = shown[place]! + values[index]! * repeatability * normalDraw(random);
          place += 1;
        }
      }
      return { shown, looked };
    },
  };
}

interface OpenCondition {
  readonly id: string;
  readonly model: ConditionModel;
  readonly readings: readonly Reading[];
  readonly mainsVolts: number;
}

function openOne(
  { bench, fitted, readings }: Subject,
  kit: ChosenKit,
  id: string,
  depth: SolveDepth,
): OpenCondition {
  const condition = kit.conditions.find((each) => each.id === id)!;
  const heat = condition.supply === 'unplugged' ? 'cold' : 'hot';
  const model = openCondition(kit, condition, bench, fitted, heat, depth);
  const own = readings.filter((reading) => reading.in === id);
  const mainsVolts = plugVolts(condition, bench);
  // Errors of the models hold at the operating point of the amplifier as it should be.
  quickReadings(model, own, nominalWorld, mainsVolts);
  return { id, model, readings: own, mainsVolts };
}

function drawWorld(subject: Subject, models: Models, randomOf: (name: string) => Random, flaw: World): World {
  const world: Record<string, number> = {};
  const types = perturbedTypes(subject);
  for (const spread of subject.spreads) {
    const isModelError = types.some((type) => spread.quantity.startsWith(`${type}.`));
    if (isModelError && models === 'wrong') continue;
    world[spread.quantity] = drawDeviation(spread, randomOf(spread.quantity));
  }
  if (models !== 'band') {
    for (const type of types) {
      for (const [name, limit] of Object.entries(wrongModels)) {
        world[`${type}.${name}`] = limit * (2 * randomOf(`wrong ${type}.${name}`)() - 1);
      }
    }
  }
  for (const [quantity, by] of Object.entries(flaw))
    world[quantity] = (1 + (world[quantity] ?? 0)) * (1 + by) - 1;
  return world;
}

/** The types whose law has the constants that are off; rectifiers keep the error that their model states. */
function perturbedTypes({ chosen }: Subject): readonly string[] {
  const types = chosen.parts.flatMap((part) => (part.kind === 'valve' ? [findValveType(part.type)!] : []));
  const perturbed = types.filter(({ sections }) => sections.some(({ parameters }) => 'ex' in parameters));
  return [...new Set(perturbed.map(({ name }) => name))];
}

function driftMains(
  { bench, spreads }: Subject,
  world: World,
  id: string,
  randomOf: (name: string) => Random,
): World {
  const share = mainsDriftShare(bench);
  const mains = spreads.find(({ quantity }) => quantity === 'mains')!;
  const anew = drawDeviation(mains, randomOf(`mains in ${id}`));
  return { ...world, mains: Math.sqrt(1 - share) * (world['mains'] ?? 0) + Math.sqrt(share) * anew };
}
