import { fireEvent, screen, within } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import type { BuildJudgement } from '../../../shared-core/bands/judge-build.ts';
import { fakeBridge } from '../helpers/fake-bridge.ts';
import { showApp, walkHash } from '../helpers/screen.tsx';
import type { Screen } from '../helpers/screen.tsx';
import { goodFigure, walkTo } from '../helpers/walk-to.ts';

let shown: Screen | null = null;
afterEach(() => shown?.close());

const healthy: BuildJudgement = {
  ...{ healthy: true, distance: 3, limit: 5, readings: 9, standsOut: null, side: null },
  words: 'Taken together, these 9 readings are as a healthy amplifier’s.',
};
const unlikely: BuildJudgement = {
  ...{ healthy: false, distance: 6, limit: 5, readings: 9, standsOut: 'b1-cold', side: 'higher' },
  words: 'Each of these 9 readings is inside its band, but together they are unlikely: B1 is higher.',
};

const main = () => within(screen.getByRole('main'));

describe('all readings taken together', () => {
  it('stand on the page of the readings', async () => {
    const bridge = fakeBridge();
    bridge.sight.together = { judgement: healthy, fromOthers: {}, moved: [] };
    walkTo(bridge, 'read-output-cathode');
    shown = await showApp(bridge, walkHash.replace('walk', 'readings'));
    await shown.settle();
    expect(main().getByText(healthy.words)).toBeTruthy();
  });

  it('stand in a record that is looked at', async () => {
    const bridge = fakeBridge();
    bridge.sight.together = { judgement: unlikely, fromOthers: {}, moved: [] };
    shown = await showApp(bridge);
    const file = new File(['good'], 'record.json', { type: 'application/json' });
    fireEvent.change(screen.getByLabelText('A record, to look at'), { target: { files: [file] } });
    await shown.settle();
    await shown.settle();
    expect(main().getByText(unlikely.words)).toBeTruthy();
  });

  it('follow a verdict: what others make one expect, what it moved elsewhere, and nothing is blocked', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-output-cathode');
    const moved = 'Cathode of V2 reads 3 % high: B1 and 2 others expected higher.';
    const fromOthers = { 'v2-cathode': { nominal: 7.6, low: 7.2, high: 8, because: null } };
    bridge.sight.together = { judgement: unlikely, fromOthers, moved: [moved] };
    shown = await showApp(bridge, walkHash);
    screen.getByRole('textbox').focus();
    await shown.type(goodFigure(bridge, 'v2-cathode'));
    await shown.press('Enter');
    await shown.settle();
    expect(main().getByText(/^as expected/)).toBeTruthy();
    expect(main().getByText(/other conditions make one expect 7\.2.V to 8.*V here/)).toBeTruthy();
    expect(main().getByText(moved)).toBeTruthy();
    expect(main().getByText(unlikely.words)).toBeTruthy();
    expect(main().getByRole('button', { name: 'Keep' }).getAttribute('aria-disabled')).not.toBe('true');
  });
});
