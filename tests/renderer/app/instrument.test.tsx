import { screen, within } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import type { InstrumentOutcome } from '../../../shared-core/contract/calls.ts';
import type { KnownInstrument } from '../../../shared-core/contract/instrument.ts';
import { fakeBridge } from '../helpers/fake-bridge.ts';
import type { FakeBridge } from '../helpers/fake-bridge.ts';
import { showApp, walkHash } from '../helpers/screen.tsx';
import type { Screen } from '../helpers/screen.tsx';
import { walkTo } from '../helpers/walk-to.ts';

const known: KnownInstrument = {
  address: { kind: 'tcp', host: '127.0.0.1', port: 5025 },
  identity: 'LARKFIELD,DM-1,1024,1.0',
  name: 'LARKFIELD DM-1, serial 1024',
  isolated: true,
  earthVolts: 1000,
};

/** V2's cathode by an instrument: 7.81 V. */
const shows: InstrumentOutcome = {
  kind: 'shows',
  text: '7.81',
  words: '7.81\u202fV DC · 10\u202fV range',
  taken: { instrument: known.identity, reply: '+7.81E+00', function: 'VOLT', range: 10 },
};

let shown: Screen | null = null;
afterEach(() => shown?.close());

async function at(
  step: string,
  instrument: KnownInstrument | null,
  look: () => Promise<InstrumentOutcome> = () => Promise.resolve(shows),
): Promise<{ readonly bridge: FakeBridge; readonly page: Screen }> {
  const bridge = fakeBridge();
  bridge.instrument.look = look;
  await bridge.call('settings.set', { settings: { instruments: [instrument ?? known] } });
  walkTo(bridge, step);
  if (instrument !== null) {
    const { identity, name, isolated, earthVolts } = instrument;
    bridge.do({
      kind: 'instrument-recorded',
      by: 'hand',
      instrument: { identity, name, address: '127.0.0.1, port 5025', isolated, earthVolts },
    });
  }
  shown = await showApp(bridge, walkHash);
  return { bridge, page: shown };
}

const meter = () => within(screen.getByRole('group', { name: 'Meter on a cable' }));
const field = () => screen.getByRole<HTMLInputElement>('textbox', { name: 'The meter shows' });
const entered = (bridge: FakeBridge) =>
  bridge.written.filter((event) => event.kind === 'reading-entered' && event.reading === 'v2-cathode');

describe('a meter on a cable', () => {
  it('shows its reading, is taken into the field with F2, and counts only after ⏎', async () => {
    const { bridge, page } = await at('read-output-cathode', known);
    expect(meter().getByText(/7\.81.V DC · 10.V range/)).toBeTruthy();
    await page.press('F2');
    expect(field().value).toBe('7.81');
    expect(screen.getByText(/7\.81.V, from the meter: ⏎ if it shows the same/)).toBeTruthy();
    expect(document.activeElement).toBe(field());
    expect(entered(bridge)).toEqual([]);
    await page.press('Enter');
    expect(entered(bridge)).toMatchObject([
      { typed: '7.81', by: 'hand', instrument: { reply: '+7.81E+00', range: 10 } },
    ]);
  });

  it('takes and enters nothing for a key held down', async () => {
    const { bridge, page } = await at('read-output-cathode', known);
    await page.press('F2', { repeat: true });
    expect(field().value).toBe('');
    await page.press('F2');
    await page.press('Enter', { repeat: true });
    expect(entered(bridge)).toEqual([]);
  });

  it('is not named as the source of a number that was changed by hand', async () => {
    const { bridge, page } = await at('read-output-cathode', known);
    await page.press('F2');
    await page.type('7.82');
    await page.press('Enter');
    expect(entered(bridge)).toMatchObject([{ typed: '7.82' }]);
    expect(entered(bridge)[0]).not.toHaveProperty('instrument');
  });

  it('that never answers does not hold up typing', async () => {
    const { bridge, page } = await at('read-output-cathode', known, () => new Promise(() => undefined));
    expect(meter().getByText(/is being asked/)).toBeTruthy();
    await page.press('F2');
    field().focus();
    await page.type('7.8');
    await page.press('Enter');
    expect(entered(bridge)).toMatchObject([{ typed: '7.8' }]);
  });

  it('that is unplugged says so beside the field', async () => {
    const message = 'The meter is gone: its cable was unplugged, or it was switched off';
    const { page } = await at('read-output-cathode', known, () =>
      Promise.resolve({
        kind: 'problem',
        problems: [{ code: 'instrument/unplugged', severity: 'error', message, hint: 'Type the reading.' }],
      }),
    );
    expect(meter().getByText(message)).toBeTruthy();
    await page.press('F2');
    expect(screen.getByRole('status').textContent).toContain(message);
    expect(field().value).toBe('');
  });

  it('is asked nothing while it is not isolated and a probe may meet more than the safe voltage', async () => {
    const { bridge, page } = await at('read-output-cathode', { ...known, isolated: false, earthVolts: 0 });
    expect(meter().getByText(/recorded as not isolated: it may not be used above 30 V/)).toBeTruthy();
    expect(bridge.calls).not.toContain('instrument.look');
    field().focus();
    await page.type('7.8');
    await page.press('Enter');
    expect(entered(bridge)).toHaveLength(1);
  });

  it('settles no proof: the earth bond is typed', async () => {
    const { bridge } = await at('read-earth', known);
    expect(meter().getByText(/is a proof: an instrument never settles one/)).toBeTruthy();
    expect(meter().queryByRole('button')).toBeNull();
    expect(bridge.calls).not.toContain('instrument.look');
  });

  it('is recorded once in a build, by hand, before it is asked anything', async () => {
    const { bridge, page } = await at('read-output-cathode', null);
    expect(bridge.calls).not.toContain('instrument.look');
    meter().getByRole('button', { name: 'Use it in this build' }).focus();
    await page.press('Enter');
    expect(bridge.written.at(-1)).toMatchObject({
      kind: 'instrument-recorded',
      by: 'hand',
      instrument: { identity: known.identity, isolated: true, earthVolts: 1000 },
    });
    await page.settle();
    expect(meter().getByText(/7\.81.V DC/)).toBeTruthy();
  });
});
