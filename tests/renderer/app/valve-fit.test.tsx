import { screen, within } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { fakeBridge } from '../helpers/fake-bridge.ts';
import { showApp } from '../helpers/screen.tsx';
import type { Screen } from '../helpers/screen.tsx';

let shown: Screen | null = null;
afterEach(() => shown?.close());

const field = (socket: string): HTMLElement =>
  screen.getByRole('combobox', { name: new RegExp(`^${socket},`) });

async function ask(socket: string, type: string): Promise<void> {
  field(socket).focus();
  await shown?.type(type);
  await shown?.press('Enter');
}

describe('another valve, by keyboard', () => {
  it('is a way from the kit’s page, which says under which names its valves are sold', async () => {
    shown = await showApp(fakeBridge(), '#kit/%2Fkits%2Fheron');
    const valves = screen.getByRole('region', { name: 'Valves' });
    expect(valves.textContent).toContain('ECC83: also sold as 12AX7, 12AX7A, 7025');
    within(valves).getByRole('button').focus();
    await shown.press('Enter');
    expect(document.activeElement).toBe(screen.getByRole('heading', { name: 'Another valve for Heron' }));
    await ask('V2', 'ECC83');
    const answer = screen.getByRole('region', { name: 'Answer' });
    expect(answer.textContent).toContain('Do not fit: 6 reasons.');
    expect(answer.textContent).toContain('High tension on the grid');
    const differing = within(answer)
      .getAllByRole('row')
      .filter(({ lastElementChild }) => lastElementChild?.textContent === 'differs')
      .map(({ firstElementChild }) => firstElementChild?.textContent);
    // ECC83 in the socket of an EL84: its grid on the anode, its tap on the screen, three electrodes in the air;
    // the sixth reason is its heater, which half the line and the screen's voltage feed together.
    expect(differing).toEqual(['1', '6', '7', '8', '9']);
    // The answer is said, and goes with its question.
    expect(screen.getAllByRole('status').map(({ textContent }) => textContent)).toContain(
      'Do not fit: 6 reasons.',
    );
    await shown.type('EL84');
    expect(screen.queryByRole('region', { name: 'Answer' })).toBeNull();
  });

  it('names the nearest type for one that nobody knows', async () => {
    shown = await showApp(fakeBridge(), '#fit/%2Fkits%2Fheron');
    await ask('V1', 'ECC8X');
    expect(screen.getByRole('alert').textContent).toContain('Did you mean "ECC81"?');
  });

  it('is a page of a build that writes nothing and shows no figure of a reading not taken yet', async () => {
    const bridge = fakeBridge();
    shown = await showApp(bridge, '#build/build-1/fit');
    const written = bridge.written.length;
    expect(screen.getByRole('button', { name: 'Another valve' }).getAttribute('aria-current')).toBe('page');
    await ask('V1', 'ECC82');
    const table = screen.getByRole('table', { name: 'Readings' });
    const cells = within(table)
      .getAllByRole('row')
      .slice(1)
      .map((row) => [...row.children].map(({ textContent }) => textContent));
    expect(cells.length).toBeGreaterThan(10);
    expect(cells.every(([, was, becomes]) => was === 'not read yet' && becomes === '')).toBe(true);
    expect(cells.some(([, , , moved]) => moved?.endsWith('%') === true)).toBe(true);
    expect(screen.queryByRole('table', { name: /Operating point/ })).toBeNull();
    expect(bridge.written.length).toBe(written);
  });
});
