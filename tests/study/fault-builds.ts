import { meterSpread } from '../../shared-core/bands/draw-readings.ts';
import { mainsDriftShare, repeatability } from '../../shared-core/bands/predict-build.ts';
import { quickReadings } from '../../shared-core/bands/quick-readings.ts';
import { drawDeviation } from '../../shared-core/bands/spread.ts';
import type { BuiltKit } from '../../shared-core/faults/fault.ts';
import { strayOf } from '../../shared-core/faults/factors.ts';
import type { FaultModel } from '../../shared-core/faults/fault-model.ts';
import { pictureCondition } from '../../shared-core/faults/picture.ts';
import type { Reading } from '../../shared-core/kit/kit.ts';
import { normalDraw, type Random } from '../../shared-core/numerics/random.ts';
import { openCondition, plugVolts } from '../../shared-core/prediction/condition-model.ts';
import type { World } from '../../shared-core/prediction/world.ts';

type FaultSide = Omit<FaultModel, 'faults'>;

/** How the valve models of the simulated amplifiers are wrong, flat within ± these, per type, relative. */
export const wrongModels: Readonly<Record<string, number>> = { ex: 0.02, kp: 0.2, kvb: 0.2, mu: 0.04 };

/** One amplifier drawn at random: what scatters, its own mains in each condition, and its builder's meter. */
export function drawWorlds(model: FaultSide, random: Random, isWrong = false): (condition: string) => World {
  const world: Record<string, number> = {};
  const types = new Set(model.chosen.parts.flatMap((part) => (part.kind === 'valve' ? [part.type] : [])));
  for (const spread of model.spreads) {
    // Wrong constants stand in place of the error that the bands allow the models.
    if (isWrong && types.has(spread.quantity.split('.')[0] ?? '')) continue;
    world[spread.quantity] = drawDeviation(spread, random);
  }
  for (const type of isWrong ? types : []) {
    for (const [name, limit] of Object.entries(wrongModels)) {
      world[`${type}.${name}`] = limit * (2 * random() - 1);
    }
  }
  const share = mainsDriftShare(model.bench);
  const mains = model.spreads.find(({ quantity }) => quantity === 'mains');
  const anew = new Map(model.conditions.map((id) => [id, mains ? drawDeviation(mains, random) : 0]));
  return (id) => ({
    ...world,
    mains: Math.sqrt(1 - share) * (world['mains'] ?? 0) + Math.sqrt(share) * (anew.get(id) ?? 0),
  });
}

/** What a meter of the stated accuracy shows of true values; ∞ stays OL, NaN stays none. */
export function showOnMeter(model: FaultSide, values: Float64Array, random: Random): Float64Array {
  const errors = new Map<string, number>();
  return values.map((value, index) => {
    const { measure } = model.readings[index]!;
    if (!errors.has(measure)) errors.set(measure, drawDeviation(meterSpread(model.bench, measure), random));
    const floor = strayOf(measure, model.healthy.values[index]!) * (2 * random() - 1);
    const look = 1 + repeatability * normalDraw(random);
    return Number.isFinite(value) ? value * (1 + errors.get(measure)!) * look + floor : value;
  });
}

/** What one amplifier really has at every reading, each condition solved in full. */
export function solveBuild(model: FaultSide, built: BuiltKit, worldIn: (id: string) => World): Float64Array {
  const values = new Map<string, number>();
  for (const id of model.conditions) {
    const own = model.readings.filter((reading) => reading.in === id);
    const flaw: Record<string, number> = { ...worldIn(id) };
    for (const [quantity, by] of Object.entries(built.flaw)) {
      flaw[quantity] = (1 + (flaw[quantity] ?? 0)) * (1 + by) - 1;
    }
    const picture = pictureCondition({ ...built, flaw }, id, own, model.bench, { depth: 'full' });
    own.forEach((reading, index) => values.set(reading.id, picture.values[index]!));
  }
  return Float64Array.from(model.readings, ({ id }, index) =>
    Number.isNaN(model.healthy.values[index]!) ? Number.NaN : (values.get(id) ?? Number.NaN),
  );
}

/** Healthy amplifiers one after the other, each a real operating point; the ripple is that of the first. */
export function openHealthyBuilds(
  model: FaultSide,
  readings: readonly Reading[],
): (worldIn: (id: string) => World) => Float64Array {
  const usual = new Map(model.readings.map(({ id }, index) => [id, model.healthy.values[index]!]));
  const isFigure = ({ id }: Reading): boolean => Number.isFinite(usual.get(id));
  const open = model.conditions.map((id) => {
    const condition = model.chosen.conditions.find((each) => each.id === id)!;
    const heat = condition.supply === 'unplugged' ? ('cold' as const) : ('hot' as const);
    // What is OL in a sound amplifier stays so whatever scatters.
    const own = readings.filter((reading) => reading.in === id && isFigure(reading));
    const chosen = { ...model.chosen, readings: own };
    const opened = openCondition(chosen, condition, model.bench, model.fitted, heat, 'band');
    const mainsVolts = plugVolts(condition, model.bench);
    const built = { chosen, fitted: model.fitted, flaw: {} };
    const full = pictureCondition(built, id, own, model.bench, { depth: 'full' }).values;
    const quick = quickReadings(opened, own, {}, mainsVolts).values;
    // The tangent's own error at nominal is taken out, as it is of the bands.
    const scale = full.map((value, index) => {
      const plain = own[index]!.measure === 'ohms' ? value - model.bench.leads.ohms : value;
      return Math.abs(plain) > 1e-3 ? plain / quick[index]! : 1;
    });
    return { id, opened, own, mainsVolts, scale };
  });
  const overloads = Float64Array.from(model.healthy.values, (value) =>
    value === Infinity ? value : Number.NaN,
  );
  const place = new Map(model.readings.map(({ id }, index) => [id, index]));
  return (worldIn) => {
    const values = overloads.slice();
    for (const { id, opened, own, mainsVolts, scale } of open) {
      if (own.length === 0) continue;
      const quick = quickReadings(opened, own, worldIn(id), mainsVolts).values;
      own.forEach((reading, index) => {
        const at = place.get(reading.id)!;
        const lead = reading.measure === 'ohms' ? model.bench.leads.ohms : 0;
        values[at] = quick[index]! * scale[index]! + lead;
      });
    }
    return values;
  };
}
