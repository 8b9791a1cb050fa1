import { fireEvent, screen, within } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { fakeBridge } from '../helpers/fake-bridge.ts';
import type { FakeBridge } from '../helpers/fake-bridge.ts';
import { showApp, walkHash } from '../helpers/screen.tsx';
import type { Screen } from '../helpers/screen.tsx';
import { makeReady, proveEmpty, walkTo } from '../helpers/walk-to.ts';

let shown: Screen | null = null;
afterEach(() => shown?.close());

async function show(bridge: FakeBridge, hash = walkHash): Promise<Screen> {
  shown = await showApp(bridge, hash);
  return shown;
}

async function at(step: string): Promise<{ readonly bridge: FakeBridge; readonly page: Screen }> {
  const bridge = fakeBridge();
  walkTo(bridge, step);
  return { bridge, page: await show(bridge) };
}

const heading = (): string => screen.getByRole('heading', { level: 1 }).textContent ?? '';
const main = () => within(screen.getByRole('main'));
const bar = () => within(screen.getByRole('banner', { name: 'Energy state' }));
const kind = (bridge: FakeBridge): string => bridge.view().build.safety.energy.kind;

describe('switching on, by keyboard', () => {
  it('confirms every caution by a press of its own, then goes live', async () => {
    const { bridge, page } = await at('on-lamp');
    const cautions =
      bridge.view().facts.conditions.find(({ id }) => id === 'lamp-no-valves')?.cautions.length ?? 0;
    // Each caution, the red lead and the mains switch: one press each, and none of them goes live.
    for (let presses = 0; presses < cautions + 2; presses += 1) {
      expect(kind(bridge)).toBe('dead');
      await page.press('Enter');
    }
    expect(Object.keys(bridge.view().build.safety.acknowledged)).toHaveLength(cautions);
    expect(kind(bridge)).toBe('dead');
    expect(main().getByText(/the amplifier counts as live/)).toBeTruthy();
    await page.press('Enter');
    expect(kind(bridge)).toBe('live');
    expect(bar().getByText('Live')).toBeTruthy();
  });

  it('acknowledges nothing for a key held down', async () => {
    const { bridge, page } = await at('on-lamp');
    for (let presses = 0; presses < 5; presses += 1) await page.press('Enter', { repeat: true });
    expect(Object.keys(bridge.view().build.safety.acknowledged)).toHaveLength(0);
  });

  it('says what stands in the way before it asks for any confirmation', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-earth');
    const page = await show(bridge);
    fireEvent.click(screen.getByRole('button', { name: /First power, without valves/ }));
    await page.settle();
    fireEvent.click(screen.getByRole('button', { name: /Switch on through the lamp/ }));
    await page.settle();
    expect(main().getByRole('region', { name: 'Before the plug goes in' })).toBeTruthy();
    expect(main().queryByRole('button', { name: /Understood/ })).toBeNull();
    await page.press('Enter');
    expect(kind(bridge)).toBe('dead');
  });
});

describe('the two keys of the bar', () => {
  it('asks before it believes that the plug is out; Escape leaves it live', async () => {
    const { bridge, page } = await at('read-lamp');
    await page.press('F9');
    expect(screen.getByRole('dialog', { name: 'Pull the plug' })).toBeTruthy();
    fireEvent(screen.getByRole('dialog'), new Event('cancel', { cancelable: true }));
    await page.settle();
    expect(screen.queryByRole('dialog')).toBeNull();
    expect(kind(bridge)).toBe('live');
    await page.press('F9');
    within(screen.getByRole('dialog')).getByRole('button', { name: 'The plug is out and in sight' }).focus();
    await page.press('Enter');
    expect(kind(bridge)).toBe('draining');
    expect(bar().getByText('Draining')).toBeTruthy();
  });

  it('hears F8 even while a number is typed, then plug, then words', async () => {
    const { bridge, page } = await at('read-lamp');
    screen.getByRole('textbox', { name: 'The meter shows' }).focus();
    await page.press('F8');
    expect(heading()).toBe('Pull the plug now');
    await page.press('F9');
    within(screen.getByRole('dialog')).getByRole('button', { name: 'The plug is out and in sight' }).focus();
    await page.press('Enter');
    expect(heading()).toBe('What did you notice?');
    const sign = screen.getByRole('checkbox', { name: 'smoke or smell' });
    fireEvent.click(sign);
    sign.focus();
    await page.settle();
    await page.press('Enter');
    expect(bridge.view().build.wrongs.map(({ signs }) => signs)).toEqual([['smoke or smell']]);
    expect(heading()).toBe('Prove every store empty');
  });
});

describe('draining, by keyboard', () => {
  it('goes through meter, first looks, countdown, second looks and meter to dead', async () => {
    const { bridge, page } = await at('off-rectifier');
    await page.press('F9');
    within(screen.getByRole('dialog')).getByRole('button', { name: 'The plug is out and in sight' }).focus();
    await page.press('Enter');
    expect(main().getByText(/Show that the meter works/)).toBeTruthy();
    await page.type('9.1');
    await page.press('Enter');
    expect(main().getByText(/until it is worth measuring/)).toBeTruthy();
    // Slow, likely and fast curves are past 30 V at 45 s; the stores then hold some volts.
    await page.pass(45);
    const { stores } = bridge.view().facts;
    for (const { part } of stores) {
      await page.pass(4);
      expect(document.activeElement).toBe(screen.getByRole('textbox', { name: `Across ${part}, DC` }));
      await page.type('12');
      await page.press('Enter');
    }
    expect(main().getByText(/until the second look counts/)).toBeTruthy();
    await page.pass(61);
    for (const { part } of stores) {
      await page.pass(4);
      expect(document.activeElement).toBe(screen.getByRole('textbox', { name: `Across ${part}, DC` }));
      await page.type('12');
      await page.press('Enter');
    }
    expect(kind(bridge)).toBe('draining');
    expect(main().getByText(/once more that the meter works/)).toBeTruthy();
    await page.type('9.1');
    await page.press('Enter');
    expect(kind(bridge)).toBe('dead');
    expect(bar().getByText(/proven/)).toBeTruthy();
  });

  it('asks for five checks after a look that is too low to be true', async () => {
    const { bridge, page } = await at('off-rectifier');
    bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
    await page.settle();
    await page.type('9.1');
    await page.press('Enter');
    await page.pass(3);
    await page.type('0.1');
    await page.press('Enter');
    expect(main().getByText(/reads lower than the drain explains/)).toBeTruthy();
    const boxes = within(main().getByRole('group', { name: 'Check' })).getAllByRole('checkbox');
    expect(boxes).toHaveLength(5);
    for (const box of boxes.slice(1)) fireEvent.click(box);
    await page.settle();
    expect(
      main()
        .getByRole('button', { name: /All of it is right/ })
        .getAttribute('aria-disabled'),
    ).toBe('true');
    fireEvent.click(boxes[0] as HTMLElement);
    await page.settle();
    (document.activeElement as HTMLElement).blur();
    await page.press('Enter');
    expect(main().queryByText(/reads lower than the drain explains/)).toBeNull();
  });
});

describe('when nothing can be known', () => {
  it('treats silence as live and takes every acting control away', async () => {
    const { bridge, page } = await at('on-lamp');
    bridge.die();
    await page.pass(3);
    page.link.look();
    await page.settle();
    expect(bar().getByText('State unknown')).toBeTruthy();
    expect(bar().getByText('treat as live')).toBeTruthy();
    expect(screen.getByRole('status').textContent).toContain('State unknown');
    const before = bridge.written.length;
    await page.press('Enter');
    expect(bridge.written.length).toBe(before);
    // Nothing in the middle but what to do now: no step, no instruction, no control.
    expect(heading()).toBe('Treat the amplifier as live');
    expect(main().queryAllByRole('button')).toEqual([]);
    expect(main().getByText(/Pull the plug out of the wall/)).toBeTruthy();
    expect(main().getByText(/open the address that it then shows/)).toBeTruthy();
  });

  it('resumes after a crash as draining, time unknown, and asks for the plug', async () => {
    const { bridge, page } = await at('read-lamp');
    bridge.restart();
    await page.link.openBuild('build-1');
    await page.settle();
    expect(heading()).toBe('Is the plug out?');
    expect(main().getByText('State: draining, time unknown')).toBeTruthy();
  });
});

describe('other pages of a build, by keyboard', () => {
  it('leads from a stop through repair, looking over and cold readings to the lamp', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-rectifier');
    bridge.do({ kind: 'enter-reading', reading: 'b1-unloaded', typed: '460', corrects: null, by: 'hand' });
    bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
    proveEmpty(bridge);
    const page = await show(bridge);
    expect(main().getByText('This reading was past its stop limit.')).toBeTruthy();
    main().getByRole('button', { name: 'Record a repair' }).focus();
    await page.press('Enter');
    main().getByRole('textbox', { name: 'What was wrong, and what was done' }).focus();
    await page.type('cold joint at R3');
    main().getByRole('textbox', { name: 'Parts and places touched' }).focus();
    await page.type('R3, V1.3, R99');
    expect(
      main()
        .getByRole('button', { name: /Repaired/ })
        .getAttribute('aria-disabled'),
    ).toBe('true');
    await page.type('R3, V1.3');
    fireEvent.click(main().getByRole('button', { name: /Repaired/ }));
    await page.settle();
    const places = ['R3.1', 'R3.2', 'V1.3'];
    expect(bridge.view().build.repairs).toMatchObject([{ what: 'cold joint at R3', places }]);
    expect(bridge.view().build.safety.afterWork?.readings).toContain('v1b-cathode-cold');
    expect(heading()).toBe('Look it over');
    await page.press('Enter');
    expect(heading()).toBe('Read again, cold');
    expect(kind(bridge)).toBe('dead');
  });

  it('asks for the whole cold gate again when a repair went to the mains side as well', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-rectifier');
    bridge.do({ kind: 'enter-reading', reading: 'b1-unloaded', typed: '460', corrects: null, by: 'hand' });
    bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
    proveEmpty(bridge);
    const page = await show(bridge, '#build/build-1/repair');
    main().getByRole('textbox', { name: 'What was wrong, and what was done' }).focus();
    await page.type('earth lead soldered anew');
    fireEvent.click(main().getByRole('checkbox', { name: /earth lead/ }));
    fireEvent.click(main().getByRole('button', { name: /Repaired/ }));
    await page.settle();
    const { safety } = bridge.view().build;
    expect(safety.readings['b1-unloaded']?.settled).toBe('repaired');
    expect(safety.readings['earth-bond']?.counts).toBe(false);
    expect(safety.gate).toEqual({ insulationNotTested: false, fusesRead: [] });
  });

  it('believes at once that the plug was found in the wall', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'fit-c1');
    const page = await show(bridge, '#build/build-1/repair');
    main().getByRole('button', { name: 'Found plugged in' }).focus();
    await page.press('Enter');
    expect(kind(bridge)).toBe('draining');
    expect(heading()).toBe('Is the plug out?');
  });

  it('lets a fuse be replaced only after both of its sides were measured', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'fit-v3');
    const page = await show(bridge, '#build/build-1/repair');
    const replaced = (): HTMLElement => main().getByRole('button', { name: /F1 replaced/ });
    expect(replaced().getAttribute('aria-disabled')).toBe('true');
    main().getByRole('textbox', { name: 'One side' }).focus();
    await page.type('0.1');
    main().getByRole('textbox', { name: 'Other side' }).focus();
    await page.type('0.2');
    fireEvent.click(main().getByRole('button', { name: 'Both sides measured' }));
    await page.settle();
    replaced().focus();
    await page.press('Enter');
    expect(bridge.view().build.safety.fusesReplaced).toEqual(['F1']);
  });

  it('writes down a part that is missing', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'gather-capacitors');
    const page = await show(bridge);
    fireEvent.change(main().getByRole('combobox', { name: 'Part' }), { target: { value: 'C5' } });
    fireEvent.click(main().getByRole('button', { name: 'Write it down' }));
    await page.settle();
    expect(bridge.view().build.differing).toEqual({ C5: { how: 'missing', what: '' } });
  });

  it('takes the measured value of what is fitted instead into what predictions go by', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'gather-capacitors');
    const page = await show(bridge);
    fireEvent.change(main().getByRole('combobox', { name: 'Part' }), { target: { value: 'C5' } });
    fireEvent.click(main().getByRole('radio', { name: 'fitted instead' }));
    fireEvent.change(main().getByRole('textbox', { name: 'What' }), { target: { value: 'old stock' } });
    fireEvent.change(main().getByRole('textbox', { name: 'Its measured value' }), {
      target: { value: '52u' },
    });
    fireEvent.click(main().getByRole('button', { name: 'Write it down' }));
    await page.settle();
    const { differing, fitted } = bridge.view().build;
    expect(differing).toEqual({ C5: { how: 'fitted instead', what: 'old stock' } });
    expect(fitted.measured['C5']).toBeCloseTo(52e-6, 12);
    expect(main().getByText(/C5 fitted instead: old stock, 52.µF/)).toBeTruthy();
  });

  it('measures a part at the step that fits it as well', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'fit-c1');
    const page = await show(bridge);
    const field = main().getByRole('textbox', { name: 'C1 measured, in F' });
    fireEvent.change(field, { target: { value: '49u' } });
    fireEvent.keyDown(field, { key: 'Enter' });
    await page.settle();
    expect(bridge.view().build.fitted.measured['C1']).toBeCloseTo(49e-6, 12);
  });

  it('writes a note about the step on the screen', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'fit-c1');
    const page = await show(bridge, '#build/build-1/notes');
    screen.getByRole('textbox', { name: /Fit the reservoir C1/ }).focus();
    await page.type('groove at the plus end');
    screen.getByRole('button', { name: 'Write it down' }).focus();
    await page.press('Enter');
    expect(bridge.view().build.notes).toMatchObject([{ about: 'fit-c1', text: 'groove at the plus end' }]);
  });

  it('shows each band only for readings that were taken', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-ht-winding');
    await show(bridge, '#build/build-1/readings');
    const row = (name: string) => within(screen.getByRole('row', { name: new RegExp(`^${name}`) }));
    expect(row('B1 to earth').getByText('as expected')).toBeTruthy();
    expect(row('B1 to earth').queryByText('—')).toBeNull();
    expect(row('B1, rectifier only').getByText('—')).toBeTruthy();
    expect(row('B1, rectifier only').queryByText(/V$/)).toBeNull();
  });

  it('lists what the first plug-in still needs', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-apart-off');
    await show(bridge, '#build/build-1/gate');
    const done = (name: string): boolean =>
      within(screen.getByText(name).closest('li') as HTMLElement).queryByText('done') !== null;
    expect(done('Earth pin to chassis')).toBe(true);
    expect(done('Line pin to chassis, switch off')).toBe(false);
  });

  it('saves report and record, and shows what happened in words', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-lamp');
    await show(bridge, '#build/build-1/report');
    expect(screen.getByText(/Plugged in: On the lamp limiter, no valves/)).toBeTruthy();
    expect(screen.getByRole('button', { name: 'Save the report (PDF)' })).toBeTruthy();
    expect(screen.getByRole('button', { name: 'Save the record' })).toBeTruthy();
  });

  it('measures the stores of a dead amplifier, and finds a charge', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'fit-v3');
    const page = await show(bridge, '#build/build-1/stores');
    await page.type('0.2');
    await page.press('Enter');
    expect(bridge.view().build.safety.deadVolts['C1']).toBe(0.2);
    await page.type('45');
    await page.press('Enter');
    expect(kind(bridge)).toBe('draining');
    expect(heading()).toBe('Is the plug out?');
  });

  it('keeps a confirmation that was already given when the page is opened again', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'on-lamp');
    makeReady(bridge, 'lamp-no-valves');
    await show(bridge);
    expect(main().getByRole('button', { name: /Live now/ })).toBeTruthy();
  });
});
