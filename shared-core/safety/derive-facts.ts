import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, Reading } from '../kit/kit.ts';
import type { DrainPrediction, ReadingPrediction } from '../prediction/prediction.ts';
import { fullestCondition } from '../prediction/stores.ts';
import { netOfPlace } from '../prediction/wiring.ts';
import { deriveConditionFacts } from './derive-condition-facts.ts';
import { findFixedBias } from './derive-fixed-bias.ts';
import { deriveStepFacts } from './derive-step-facts.ts';
import { coldReadingsByNet, mainsSideNets } from './derive-nets.ts';
import type { FactsBasis } from './facts-basis.ts';
import type { FuseFacts, ReadingFacts, SafetyFacts } from './facts.ts';

/**
 * What the safety rules need to know, derived from kit, predictions and bench.
 *
 * A figure that is missing stays null: the rules never read it as harmless.
 */
export function deriveFacts(basis: FactsBasis): SafetyFacts {
  const { chosen, kitHash, predictions, drain } = basis;
  const mainsSide = mainsSideNets(chosen);
  const mains = chosen.conditions.filter(({ supply }) => supply === 'mains');
  const fullest = fullestCondition(mains);
  const netVolts = predictions.find(({ condition }) => condition === fullest?.id)?.netVolts ?? {};
  const readings = chosen.readings.map((reading) => readingFacts(basis, reading, mainsSide));
  return {
    ...{ kitHash, revision: chosen.revision, safeVolts: chosen.safeVolts, stores: drain.stores },
    primaryVolts: primaryVolts(chosen),
    conditions: chosen.conditions.map((condition) => deriveConditionFacts(basis, condition, readings)),
    steps: deriveStepFacts(chosen, mainsSide),
    readings,
    fuses: fuseFacts(chosen, mainsSide),
    fixedBias: findFixedBias(chosen, predictions, netVolts),
    sockets: chosen.parts.filter(({ kind }) => kind === 'valve').map(({ id }) => id),
    lampStage: chosen.conditions.find(({ supply }) => supply === 'lamp')?.id ?? null,
    coldReadingsOf: coldReadingsByNet(chosen),
    htToChassis: htToChassis(chosen, drain),
    netOf: chosen.netOf,
  };
}

/** What every mains transformer of the kit is made for; null where they differ or there is none. */
function primaryVolts({ parts }: ChosenKit): number | null {
  const volts = new Set(
    parts.flatMap((part) => (part.kind === 'mains-transformer' ? [part.primary.volts] : [])),
  );
  return volts.size === 1 ? ([...volts][0] ?? null) : null;
}

function readingFacts(
  { chosen, predictions, drain }: FactsBasis,
  reading: Reading,
  mainsSide: ReadonlySet<string>,
): ReadingFacts {
  const { id, title, at, against, measure, expect, proves } = reading;
  const prediction = predictions.flatMap(({ readings }) => readings).find((each) => each.id === id);
  const nets = [netOfPlace(chosen, at), netOfPlace(chosen, against)];
  const stopAbove = prediction?.stopAbove ?? reading.stopAbove;
  const stopBelow = prediction?.stopBelow ?? reading.stopBelow;
  const isLive = chosen.conditions.some((each) => each.id === reading.in && !isUnplugged(each));
  const isVolts = measure === 'dc volts' || measure === 'ac volts';
  return {
    ...{ id, title, at, against, measure, in: reading.in, expect, proves, stopAbove, stopBelow },
    expectsOverload: prediction?.predicted === 'overload',
    readsLikeOpen: isLive && isVolts && isNothingGood({ ...reading, stopAbove, stopBelow }, prediction),
    mainsSide: nets.some((net) => mainsSide.has(net)),
    probeVolts: prediction ? probeVolts(prediction) : null,
    joinedStores: drain.stores
      .filter(({ plus, minus }) =>
        [plus, minus].some((end) => {
          const net = netOfPlace(chosen, end);
          // The ground net joins everything: only the other end tells a store.
          return (
            nets.includes(net) && net !== netOfPlace(chosen, 'gnd') && net !== netOfPlace(chosen, 'chassis')
          );
        }),
      )
      .map(({ part }) => part),
  };
}

/** Whether 0 V would pass: inside the stop limits, what the kit states and the far ends of the band. */
function isNothingGood(
  { expect, stopAbove, stopBelow }: Pick<Reading, 'expect' | 'stopAbove' | 'stopBelow'>,
  prediction: ReadingPrediction | undefined,
): boolean {
  const lowest = Math.max(...[stopBelow, expect?.above, prediction?.lowest].map((each) => each ?? -Infinity));
  const highest = Math.min(
    ...[stopAbove, expect?.below, prediction?.highest].map((each) => each ?? Infinity),
  );
  return lowest <= 0 && highest >= 0;
}

function probeVolts({ probes, highest, unit }: ReadingPrediction): number {
  const reading = unit === 'V' ? Math.abs(highest ?? 0) : 0;
  return Math.max(Math.abs(probes.red), Math.abs(probes.black), reading);
}

function fuseFacts(chosen: ChosenKit, mainsSide: ReadonlySet<string>): readonly FuseFacts[] {
  return chosen.parts.flatMap((part): readonly FuseFacts[] => {
    if (part.kind !== 'fuse') return [];
    const { id, amps, volts, speed } = part;
    return [{ part: id, amps, volts, speed, mainsSide: mainsSide.has(netOfPlace(chosen, `${id}.a`)) }];
  });
}

/** Cold readings to the chassis on the nets that stores stand on. */
function htToChassis(chosen: ChosenKit, { stores }: DrainPrediction): readonly string[] {
  const cold = new Set(chosen.conditions.filter(isUnplugged).map(({ id }) => id));
  const grounds = [netOfPlace(chosen, 'gnd'), netOfPlace(chosen, 'chassis')];
  const nets = stores.flatMap(({ plus, minus }) => [plus, minus].map((end) => netOfPlace(chosen, end)));
  return chosen.readings
    .filter(({ measure, in: condition, at, against }) => {
      const net = netOfPlace(chosen, at);
      const isHt = nets.includes(net) && !grounds.includes(net);
      return (
        measure === 'ohms' && cold.has(condition) && isHt && grounds.includes(netOfPlace(chosen, against))
      );
    })
    .map(({ id }) => id);
}

function isUnplugged({ supply }: Condition): boolean {
  return supply === 'unplugged';
}
