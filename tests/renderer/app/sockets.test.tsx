import { fireEvent, screen, within } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { fakeBridge } from '../helpers/fake-bridge.ts';
import { showApp, walkHash } from '../helpers/screen.tsx';
import type { Screen } from '../helpers/screen.tsx';
import { goodFigure, proveEmpty, walkTo } from '../helpers/walk-to.ts';

let shown: Screen | null = null;
afterEach(() => shown?.close());

const main = () => within(screen.getByRole('main'));

it('has every valve taken out before the lamp stage is repeated, and asks for nothing else before', async () => {
  const bridge = fakeBridge();
  walkTo(bridge, 'read-supply');
  bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
  proveEmpty(bridge);
  bridge.do({ kind: 'valve-removed', socket: 'V3', by: 'hand' });
  const work = { what: 'R21', places: ['TS3.7'], mainsSide: false, soldering: false } as const;
  bridge.do({ kind: 'work-inside', ...work, by: 'hand' });
  bridge.do({ kind: 'looked-over', by: 'hand' });
  const { afterWork } = bridge.view().build.safety;
  for (const { part } of bridge.view().facts.stores)
    bridge.do({
      ...{ kind: 'store-look', store: part, volts: 0.1, enteredAfterMs: 5000, by: 'hand' },
      setup: { function: 'dc volts', range: 'auto', leads: 'pair' },
    });
  for (const reading of afterWork?.readings ?? []) {
    const typed = goodFigure(bridge, reading);
    bridge.do({ kind: 'enter-reading', reading, typed, corrects: null, by: 'hand' });
  }
  shown = await showApp(bridge, walkHash);
  expect(main().getByRole('region', { name: 'V2 comes out' }).textContent).toMatch(/glass.*hot/i);
  expect(main().queryByRole('region', { name: 'V3 comes out' })).toBeNull();
  expect(main().queryByRole('button', { name: /Understood|^Off$/ })).toBeNull();
  for (const socket of ['V1', 'V2']) {
    fireEvent.click(main().getByRole('button', { name: `The socket of ${socket} is empty` }));
    await shown.settle();
  }
  expect(bridge.view().build.safety.valvesFitted).toEqual([]);
  expect(main().getAllByRole('button', { name: 'Understood' }).length).toBeGreaterThan(0);
});

it('has the valve of the next condition recorded on the step before it', async () => {
  const bridge = fakeBridge();
  walkTo(bridge, 'fit-v3');
  shown = await showApp(bridge, walkHash);
  fireEvent.click(main().getByRole('button', { name: 'EZ81 is in V3' }));
  await shown.settle();
  expect(bridge.view().build.safety.valvesFitted).toEqual(['V3']);
  expect(main().queryByRole('region', { name: /V3/ })).toBeNull();
});

it('asks on the insulation tester for its own leads, not for the meter and not for the switch at off', async () => {
  const bridge = fakeBridge();
  walkTo(bridge, 'on-insulation');
  bridge.do({ kind: 'black-lead-clipped', by: 'hand' });
  for (const { id, text } of bridge.view().facts.conditions.find((each) => each.id === 'insulation')
    ?.cautions ?? [])
    bridge.do({ kind: 'caution-acknowledged', caution: id, text, by: 'hand' });
  shown = await showApp(bridge, walkHash);
  expect(main().queryByText(/volts socket|mains switch of the amplifier is at off/)).toBeNull();
  fireEvent.click(main().getByRole('button', { name: /^Live now/ }));
  await shown.settle();
  expect(bridge.view().build.safety.energy).toMatchObject({ kind: 'live', condition: 'insulation' });
});
