import { describe, expect, it } from 'vitest';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { deriveFacts } from '../../../shared-core/safety/derive-facts.ts';
import { asStated, chooseHeron } from '../prediction/heron.ts';

const { chosen } = chooseHeron();
const predictions = chosen.conditions.flatMap(
  ({ id }) => predictNominal(chosen, id, plainBench, asStated)?.prediction ?? [],
);
const facts = deriveFacts({
  ...{ chosen, kitHash: 'abc', bench: plainBench, fitted: asStated, predictions },
  drain: predictDrain(chosen, plainBench, asStated),
});
const reading = (id: string) => facts.readings.find((each) => each.id === id);
const step = (id: string) => facts.steps.find((each) => each.id === id);
const condition = (id: string) => facts.conditions.find((each) => each.id === id);

describe('deriveFacts on Heron', () => {
  it('calls exactly what stands before the transformer the mains side', () => {
    expect(facts.readings.filter(({ mainsSide }) => mainsSide).map(({ id }) => id)).toEqual(
      expect.arrayContaining(['line-apart-off', 'neutral-apart-on', 'primary']),
    );
    expect(reading('b1-cold')?.mainsSide).toBe(false);
    expect(reading('earth-bond')?.mainsSide).toBe(false);
    expect(facts.fuses).toEqual([expect.objectContaining({ part: 'F1', mainsSide: true })]);
    expect(step('wire-mains')?.mainsSide).toBe(true);
    expect(step('fit-c1')?.mainsSide).toBe(false);
  });

  it('lets every live voltage reading have a stop limit', () => {
    const live = chosen.conditions.filter(({ supply }) => supply !== 'unplugged').map(({ id }) => id);
    const volts = facts.readings.filter(
      ({ in: where, measure }) => live.includes(where) && measure.endsWith('volts'),
    );
    expect(volts.length).toBeGreaterThan(10);
    for (const { id, stopAbove } of volts) expect(stopAbove, id).not.toBeNull();
  });

  it('states the highest volts at high mains without load, not the running ones', () => {
    const running = predictions.find((each) => each.condition === 'running');
    expect(condition('running')?.maxVolts).toBeGreaterThan(1.2 * (running?.netVolts['b1'] ?? 0));
    expect(condition('cold')?.maxVolts).toBe(0);
    expect(condition('running')?.allValves).toBe(true);
    expect(condition('rectifier')?.allValves).toBe(false);
  });

  it('names the store that a cold reading stands on, and the nets a step solders', () => {
    expect(reading('b1-cold')?.joinedStores).toEqual(['C1']);
    expect(step('fit-c1')?.nets).toEqual(expect.arrayContaining(['b1', 'gnd']));
    expect(facts.coldReadingsOf['b1']).toContain('b1-cold');
    expect(facts.htToChassis).toEqual(['b1-cold', 'b2-cold', 'b3-cold', 'b4-cold']);
  });

  it('follows what is switched on, and asks for everything that proves something', () => {
    expect(step('read-no-valves')).toMatchObject({ condition: 'no-valves', required: true, reach: 'probe' });
    expect(step('off-no-valves')).toMatchObject({ required: false });
    expect(facts.lampStage).toBe('lamp-no-valves');
    expect(facts.fixedBias).toEqual([]);
    expect(facts.primaryVolts).toBe(230);
  });
});
