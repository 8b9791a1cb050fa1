import { screen, within } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import type { Explanation } from '../../../shared-core/faults/explain.ts';
import { measurableKit } from '../../../shared-core/faults/measurable.ts';
import { fakeBridge, heron } from '../helpers/fake-bridge.ts';
import type { FakeBridge } from '../helpers/fake-bridge.ts';
import { showApp, walkHash } from '../helpers/screen.tsx';
import type { Screen } from '../helpers/screen.tsx';
import { walkTo } from '../helpers/walk-to.ts';

let shown: Screen | null = null;
afterEach(() => shown?.close());

const main = () => within(screen.getByRole('main'));
const page = walkHash.replace('walk', 'causes');

/** Something to measure cold that the kit has no reading for. */
const offered = measurableKit(heron.kit).readings.find(({ id }) => id.endsWith(' ohms'));
if (offered === undefined) throw new Error('Heron offers nothing beyond its readings');

/** What the search for faults might say of a reading of 10 kΩ at the anode of V1a. */
const explanation: Explanation = {
  ...{ healthy: false, falseAlarmLevel: 0.02, distance: 20, limit: 3, unused: [], slipProbability: 0.2 },
  causes: [
    {
      group: 'R10 is about 10 times too small',
      chance: 'likely',
      probability: 0.62,
      faults: [
        { part: 'R10', kind: '÷10', words: 'R10 is about 10 times too small', probability: 0.4 },
        { part: 'R10', kind: 'x', words: 'something beside R10', probability: 0.22 },
      ],
      repair: { look: 'Read the bands of R10.', parts: ['R10'], places: ['TS3.2', 'V1.6'] },
    },
    {
      group: 'two faults, or something else',
      chance: 'possible',
      probability: 0.38,
      faults: [],
      repair: null,
    },
  ],
  slips: [
    {
      ...{ reading: 'v1a-anode-cold', kind: 'range or unit', words: 'the unit was misread', others: [] },
      probability: 0.2,
    },
  ],
  next: {
    ...{
      place: offered.at,
      measure: 'ohms',
      condition: 'cold',
      reading: offered.id,
      information: 1,
      why: '',
    },
    action: 'Pull the plug and prove every store empty. Then measure ohms, R10.',
    outcomes: [
      { shows: 'about 10 kΩ', means: ['R10 is about 10 times too small'], probability: 0.6 },
      { shows: 'about 100 kΩ', means: ['something beside R10'], probability: 0.4 },
    ],
  },
  advice: 'Pull the plug, lay it in sight and prove every store empty. Then look.',
};

async function show(bridge: FakeBridge, hash: string): Promise<Screen> {
  bridge.sight.explained = { kind: 'ready', explanation };
  shown = await showApp(bridge, hash);
  await shown.settle();
  return shown;
}

describe('what may explain a wrong reading', () => {
  it('comes in order: slips with what to look at, causes with their chance, what the model cannot see, next', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-v1-cold');
    await show(bridge, page);
    const parts = main()
      .getAllByRole('heading', { level: 2 })
      .map(({ textContent }) => textContent);
    expect(parts).toEqual(['A slip of measuring?', 'Probable causes', 'Next']);
    expect(main().getByText(/the unit was misread. Look at the decimal point/)).toBeTruthy();
    const lines = within(main().getByRole('region', { name: 'Probable causes' })).getAllByRole('listitem');
    expect(lines[0]?.textContent).toMatch(/62.%.*likely.*These 2 cannot be told apart/);
    // Above a third the last line is the advice: look everything over, ask the maker.
    expect(lines.at(-1)?.textContent).toMatch(/38.%.*Two faults.*ask the maker/);
    expect(main().getByRole('textbox', { name: `Ohms, ${offered.at} to ${offered.against}` })).toBeTruthy();
  });

  it('keeps what is measured beyond the readings, and the cause found with the repair', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-v1-cold');
    bridge.do({ kind: 'enter-reading', reading: 'v1a-anode-cold', typed: '10k', corrects: null, by: 'hand' });
    const app = await show(bridge, page);
    main().getByRole('textbox', { name: /^Ohms/ }).focus();
    await app.type('9.9k');
    await app.press('Enter');
    expect(bridge.written.at(-1)).toMatchObject({
      ...{ kind: 'place-measured', reading: offered.id, at: offered.at, against: offered.against },
      entry: { kind: 'value', value: 9900 },
    });
    main().getByRole('button', { name: 'It was this: record the repair' }).focus();
    await app.press('Enter');
    main()
      .getByRole('button', { name: /^Repaired/ })
      .focus();
    await app.press('Enter');
    const cause = { part: 'R10', kind: '÷10', words: 'R10 is about 10 times too small', probability: 0.4 };
    expect(bridge.written.at(-1)).toMatchObject({ kind: 'repaired', cause, readings: ['v1a-anode-cold'] });
    expect(bridge.view().build.repairs.at(-1)?.cause).toEqual(cause);
  });

  it('is advice only under voltage: no field for ohms, no repair, the plug first', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-output-cathode');
    await show(bridge, page);
    expect(main().queryByRole('textbox')).toBeNull();
    expect(main().queryByRole('button', { name: /record the repair/ })).toBeNull();
    expect(main().getByText(/The plug comes first: F9/)).toBeTruthy();
    expect(
      main().getByText(/Pull the plug, lay it in sight and prove every store empty. Then: Read/),
    ).toBeTruthy();
    expect(screen.getAllByRole('button', { name: /Pull the plug/ })).not.toHaveLength(0);
  });

  it('says how far it has come and leaves the entry of readings as it is', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-v1-cold');
    bridge.do({ kind: 'enter-reading', reading: 'v1a-anode-cold', typed: '10k', corrects: null, by: 'hand' });
    bridge.sight.explained = { kind: 'under way', done: 3, of: 12 };
    shown = await showApp(bridge, walkHash.replace('walk', 'readings'));
    await shown.settle();
    expect(main().getByRole('progressbar')).toHaveProperty('value', 0.25);
    expect(main().getByRole('button', { name: 'What may explain this' })).toBeTruthy();
  });
});
