import { fireEvent, screen, within } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { fakeBridge } from '../helpers/fake-bridge.ts';
import type { FakeBridge } from '../helpers/fake-bridge.ts';
import { showApp, walkHash } from '../helpers/screen.tsx';
import type { Screen } from '../helpers/screen.tsx';
import { goodFigure, walkTo } from '../helpers/walk-to.ts';

let shown: Screen | null = null;
afterEach(() => shown?.close());

async function at(step: string): Promise<{ readonly bridge: FakeBridge; readonly screen: Screen }> {
  const bridge = fakeBridge();
  walkTo(bridge, step);
  shown = await showApp(bridge, walkHash);
  return { bridge, screen: shown };
}

const heading = (): string => screen.getByRole('heading', { level: 1 }).textContent ?? '';
const main = () => within(screen.getByRole('main'));

describe('a step, by keyboard', () => {
  it('goes on only when everything to look at is ticked', async () => {
    const { bridge, screen: page } = await at('fit-c1');
    expect(heading()).toBe('Fit the reservoir C1');
    expect(screen.getByText(/WARNING/)).toBeTruthy();
    await page.press('Enter');
    expect(bridge.view().currentStep).toBe('fit-c1');
    for (const box of screen.getAllByRole('checkbox')) fireEvent.click(box);
    await page.settle();
    await page.press('Enter');
    expect(bridge.view().currentStep).toBe('fit-bleeders');
    expect(document.activeElement).toBe(screen.getByRole('heading', { level: 1 }));
  });

  it('does nothing for a key held down, and says why', async () => {
    const { bridge, screen: page } = await at('gather-iron');
    await page.press('Enter', { repeat: true });
    expect(bridge.view().currentStep).toBe('gather-iron');
    expect(main().getByText(/a key held down/)).toBeTruthy();
  });

  it('reads the fuse back and refuses one of another size', async () => {
    const { bridge, screen: page } = await at('fuse-1');
    screen.getByRole('textbox', { name: /Stamped on the cap of F1/ }).focus();
    await page.type('F 315 mA');
    expect(main().getByText(/is T 0.315 A in this kit, not F 0.315 A/)).toBeTruthy();
    await page.type('T 315 mA L 250 V');
    await page.press('Escape');
    (document.activeElement as HTMLElement).blur();
    await page.press('Enter');
    expect(bridge.view().build.safety.gate.fusesRead).toEqual(['F1']);
    expect(bridge.view().currentStep).toBe('read-earth');
  });
});

describe('a reading, by keyboard', () => {
  it('shows range and stop limit before the number, the band only after it', async () => {
    const { bridge, screen: page } = await at('read-output-cathode');
    expect(main().getByText(/20.V DC/)).toBeTruthy();
    expect(main().getByText(/stop above 12.V, or at more than 1.V the wrong way round/)).toBeTruthy();
    expect(main().queryByRole('img', { name: /Band/ })).toBeNull();
    expect(document.activeElement).toBe(screen.getByRole('textbox', { name: 'The meter shows' }));
    await page.type(goodFigure(bridge, 'v2-cathode'));
    await page.press('Enter');
    expect(main().getByRole('img', { name: /Band .* measured/ })).toBeTruthy();
    expect(main().getAllByText(/as expected/).length).toBeGreaterThan(0);
    await page.press('Enter');
    expect(bridge.view().currentStep).toBe('read-supply');
  });

  it('says back what was typed, and what was not understood', async () => {
    const { screen: page } = await at('read-v2-cold');
    const field = screen.getByRole('textbox', { name: 'The meter shows' });
    await page.type('4k7');
    expect(
      document.getElementById(field.getAttribute('aria-describedby')?.split(' ')[0] ?? '')?.textContent,
    ).toBe('4.7\u202fkΩ');
    await page.type('1,000');
    expect(field.getAttribute('aria-invalid')).toBe('true');
    await page.press('Enter');
    expect(heading()).toBe('Socket of V2');
  });

  it('stops at a reading out of band: no way on but again, repair or a reason', async () => {
    const { bridge, screen: page } = await at('read-v2-cold');
    await page.type('10');
    await page.press('Enter');
    expect(main().getByText('This reading does not fit.')).toBeTruthy();
    expect(main().queryByRole('button', { name: /Keep/ })).toBeNull();
    fireEvent.click(main().getByText('Accept it as it is, with a reason'));
    main().getByRole('textbox', { name: 'Reason' }).focus();
    await page.type('two 215 Ω fitted by the maker');
    fireEvent.click(main().getByRole('button', { name: 'Accept' }));
    await page.settle();
    expect(bridge.view().build.readings['v2-cathode-cold']?.settled).toBe('accepted');
    expect(main().getByRole('region', { name: 'Grid of V2, pin 2' })).toBeTruthy();
  });

  it('never takes a ⏎ of habit for the plug when the app was closed while live', async () => {
    const { bridge, screen: page } = await at('read-rectifier');
    bridge.do({ kind: 'found-plugged-in', by: 'hand' });
    bridge.restart();
    bridge.do({ kind: 'note-written', about: null, text: 'back again', by: 'hand' });
    await page.settle();
    expect(heading()).toBe('Is the plug out?');
    await page.pass(1);
    (document.activeElement as HTMLElement | null)?.blur();
    await page.press('Enter');
    expect(bridge.view().build.safety.energy).toMatchObject({ kind: 'draining', plugOut: null });
    main().getByRole('button', { name: 'The plug is out and in sight' }).focus();
    await page.press('Enter');
    expect(bridge.view().build.safety.energy).toMatchObject({ kind: 'draining' });
    expect(heading()).toBe('Prove every store empty');
  });

  it('leaves nothing but the plug past a stop limit, then asks for the repair', async () => {
    const { bridge, screen: page } = await at('read-rectifier');
    await page.type('460');
    await page.press('Enter');
    expect(heading()).toBe('Pull the plug now');
    expect(
      main()
        .getAllByRole('button')
        .map(({ textContent }) => textContent),
    ).toEqual(['The plug is out and in sight']);
    await page.press('Escape');
    expect(bridge.view().build.safety.energy.kind).toBe('live');
    await page.press('Enter', { repeat: true });
    expect(bridge.view().build.safety.energy.kind).toBe('live');
    // The second ⏎ of habit confirms nothing.
    await page.press('Enter');
    expect(bridge.view().build.safety.energy.kind).toBe('live');
    main().getByRole('button', { name: 'The plug is out and in sight' }).focus();
    await page.press('Enter', { repeat: true });
    expect(bridge.view().build.safety.energy.kind).toBe('live');
    await page.press('Enter');
    expect(bridge.view().build.safety.energy).toMatchObject({ kind: 'draining', mustProve: true });
    expect(heading()).toBe('Prove every store empty');
  });
});
