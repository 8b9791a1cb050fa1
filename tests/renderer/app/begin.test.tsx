import { fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { fakeBridge } from '../helpers/fake-bridge.ts';
import { showApp, walkHash } from '../helpers/screen.tsx';
import type { Screen } from '../helpers/screen.tsx';

let shown: Screen | null = null;
afterEach(() => shown?.close());

describe('from the shelf to the first step, by keyboard', () => {
  it('opens a kit, begins a build, records the bench and stands at the first step', async () => {
    const bridge = fakeBridge();
    shown = await showApp(bridge);
    screen.getByRole('button', { name: 'Begin Heron' }).focus();
    await shown.press('Enter');
    expect(document.activeElement).toBe(screen.getByRole('heading', { level: 1, name: 'Heron' }));
    await shown.press('Enter');
    expect(document.activeElement).toBe(screen.getByRole('heading', { level: 1, name: 'Your bench' }));
    await shown.press('Enter');
    expect(bridge.view().build.bench?.mains).toEqual({ volts: 230, hertz: 50, source: 'assumed' });
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe('Count the small resistors');
    expect(screen.getByRole('status').textContent).toBe('Dead');
  });

  it('says why a folder is not a kit', async () => {
    shown = await showApp(fakeBridge());
    screen.getByRole('textbox', { name: 'A kit’s folder' }).focus();
    await shown.type('/nowhere');
    await shown.press('Enter');
    expect(screen.getByRole('alert').textContent).toContain('There is no kit in /nowhere');
  });

  it('starts an assembled amplifier as draining and asks for the plug first', async () => {
    const bridge = fakeBridge('assembled');
    shown = await showApp(bridge, walkHash);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe('Is the plug out?');
    expect(screen.getByText('time unknown')).toBeTruthy();
    // A ⏎ of habit says nothing about the plug.
    await shown.press('Enter');
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe('Is the plug out?');
    screen.getByRole('button', { name: 'The plug is out and in sight' }).focus();
    await shown.press('Enter');
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe('Prove every store empty');
  });

  it('says that it works on it from the press of begin until the build is there', async () => {
    const bridge = fakeBridge();
    let answer: (value: never) => void = () => undefined;
    const started = new Promise<never>((resolve) => (answer = resolve));
    const call: typeof bridge.call = (name, given) =>
      name === 'build.start' ? started : bridge.call(name, given);
    shown = await showApp({ ...bridge, call });
    fireEvent.click(screen.getByRole('button', { name: /^Begin Heron/ }));
    await shown.settle();
    const begin = screen.getByRole('button', { name: 'Begin this build' });
    fireEvent.click(begin);
    await shown.settle();
    expect(screen.getByText(/One moment: what this kit should read/)).toBeTruthy();
    expect(begin.getAttribute('aria-disabled')).toBe('true');
    const problem = { code: 'file/not-found', severity: 'error', message: 'Gone' } as const;
    answer({ ok: false, problems: [problem] } as never);
    await shown.settle();
    expect(screen.queryByText(/One moment: what this kit should read/)).toBeNull();
    expect(begin.getAttribute('aria-disabled')).toBeNull();
  });

  it('refuses a bench field that is not a figure and says so beside it', async () => {
    const bridge = fakeBridge();
    shown = await showApp(bridge, '#build/build-1/bench');
    const field = screen.getByRole('textbox', { name: 'Voltage' });
    field.focus();
    await shown.type('two hundred');
    expect(field.getAttribute('aria-invalid')).toBe('true');
    const told = document.getElementById(field.getAttribute('aria-describedby') ?? '');
    expect(told?.textContent).toContain('Expected a value in V');
    const keep = screen.getByRole('button', { name: /This is my bench/ });
    expect(keep.getAttribute('aria-disabled')).toBe('true');
    keep.focus();
    await shown.press('Enter');
    expect(bridge.view().build.bench).toBeNull();
  });

  it('opens a record to look at, with its flaws, and has no control that writes to it', async () => {
    const bridge = fakeBridge();
    shown = await showApp(bridge);
    const file = new File(['good'], 'record.json', { type: 'application/json' });
    fireEvent.change(screen.getByLabelText('A record, to look at'), { target: { files: [file] } });
    await shown.settle();
    await shown.settle();
    expect(screen.getByRole('heading', { level: 1 }).textContent).toMatch(/^heron/i);
    expect(screen.getByText('entry 3 was changed')).toBeTruthy();
    const names = screen.getAllByRole('button').map(({ textContent }) => textContent);
    const begins = ['Service this amplifier'];
    const looks = ['Save its report (PDF)', 'Show its report', 'Print', 'Back to the shelf'];
    expect(names.filter((name) => !looks.includes(name ?? ''))).toEqual(begins);
    // A service is a build of its own; refused here, the reason stands beside the record.
    fireEvent.click(screen.getByRole('button', { name: 'Service this amplifier' }));
    await shown.settle();
    expect(screen.getByRole('alert').textContent).toContain('There is no practice here');
    expect(screen.getByText('entry 3 was changed')).toBeTruthy();
  });

  it('applies settings to the page and keeps them', async () => {
    const bridge = fakeBridge();
    shown = await showApp(bridge, '#settings');
    fireEvent.click(screen.getByRole('radio', { name: '200 %' }));
    fireEvent.click(screen.getByRole('radio', { name: 'dark' }));
    await shown.settle();
    expect(document.documentElement.style.fontSize).toBe('200%');
    expect(document.documentElement.dataset['theme']).toBe('dark');
    expect(await bridge.call('settings.get', {})).toMatchObject({ textSize: 2, theme: 'dark' });
  });
});
