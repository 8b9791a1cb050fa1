import { describe, expect, test } from 'vitest';
import { checkKit } from '../../../shared-core/kit/check-kit.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ConditionPrediction } from '../../../shared-core/prediction/prediction.ts';
import { findFixedBias } from '../../../shared-core/safety/derive-fixed-bias.ts';
import { fixedBias } from '../../fixtures/kits/broken-bias.ts';
import { patch, smallKit, smallKitFiles } from '../../fixtures/kits/patch.ts';

function choose(text: string) {
  const kit = checkKit(text, 'kit.yaml', smallKitFiles);
  const chosen = kit.ok ? chooseKit(kit.value) : kit;
  if (!chosen.ok) throw new Error(JSON.stringify(chosen.problems));
  return chosen.value;
}

/** Only which readings a prediction has matters here. */
const predicted = (...ids: string[]) =>
  [{ readings: ids.map((id) => ({ id })) }] as unknown as readonly ConditionPrediction[];

describe('findFixedBias', () => {
  const biased = choose(patch(smallKit, fixedBias));

  test('names the socket, its own bias reading and its adjuster, with nothing predicted at all', () => {
    const facts = findFixedBias(biased, predicted('grid'), {});
    expect(facts).toEqual([{ socket: 'V1', readings: ['grid'], adjusters: ['P2'] }]);
  });

  test('keeps the socket on the list when its reading is not predicted: the rule then stays shut', () => {
    expect(findFixedBias(biased, [], {})).toEqual([{ socket: 'V1', readings: [], adjusters: ['P2'] }]);
  });

  test('finds none with cathode bias, but adds a grid that is computed to stand below the chassis', () => {
    const plain = choose(smallKit);
    expect(findFixedBias(plain, [], {})).toEqual([]);
    const net = plain.netOf['V1.2'] ?? '';
    expect(findFixedBias(plain, [], { [net]: -12 })).toEqual([
      { socket: 'V1', readings: [], adjusters: ['P1'] },
    ]);
  });
});
