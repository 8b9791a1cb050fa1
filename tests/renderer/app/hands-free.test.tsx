import { fireEvent, screen, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { fakeBridge } from '../helpers/fake-bridge.ts';
import type { FakeBridge } from '../helpers/fake-bridge.ts';
import { showApp, walkHash } from '../helpers/screen.tsx';
import type { Screen } from '../helpers/screen.tsx';
import { goodFigure, walkTo } from '../helpers/walk-to.ts';

let shown: Screen | null = null;
afterEach(() => {
  shown?.close();
  vi.unstubAllGlobals();
});

async function show(bridge: FakeBridge, hash = walkHash): Promise<Screen> {
  shown = await showApp(bridge, hash);
  return shown;
}

const main = () => within(screen.getByRole('main'));
const kind = (bridge: FakeBridge): string => bridge.view().build.safety.energy.kind;

describe('the foot switch', () => {
  it('is chosen in the settings; keys that confirm, type or pull the plug are refused', async () => {
    const bridge = fakeBridge();
    const page = await show(bridge, '#settings');
    const choose = async (key: string): Promise<void> => {
      fireEvent.click(screen.getByRole('button', { name: /Choose its key/ }));
      await page.settle();
      await page.press(key);
    };
    for (const [key, why] of [
      ['Enter', /confirms cautions/],
      [' ', /confirms cautions/],
      ['F9', /for the plug/],
      ['4', /types/],
      ['ArrowDown', /something else/],
    ] as const) {
      await choose(key);
      expect(screen.getByText(why)).toBeTruthy();
      expect(page.link.store.getState().settings.footKey).toBeNull();
    }
    await choose('PageDown');
    expect(page.link.store.getState().settings.footKey).toBe('PageDown');
  });

  it('keeps a good reading and goes on, and never enters one', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'read-output-cathode');
    const page = await show(bridge);
    await page.link.setSettings({ footKey: 'PageDown' });
    await page.settle();
    await page.type(goodFigure(bridge, 'v2-cathode'));
    await page.press('PageDown');
    expect(bridge.view().build.readings['v2-cathode']).toBeUndefined();
    await page.press('Enter');
    expect(main().getByRole('button', { name: 'Keep' })).toBeTruthy();
    await page.press('PageDown', { repeat: true });
    expect(bridge.view().currentStep).toBe('read-output-cathode');
    await page.press('PageDown');
    expect(bridge.view().currentStep).toBe('read-supply');
    expect(bridge.written.at(-2)).toMatchObject({ kind: 'step-done', by: 'foot' });
  });

  it('acknowledges no caution, switches nothing on, confirms no plug and no work', async () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'on-lamp');
    const page = await show(bridge);
    await page.link.setSettings({ footKey: 'PageDown' });
    await page.settle();
    for (let presses = 0; presses < 10; presses += 1) await page.press('PageDown');
    expect(Object.keys(bridge.view().build.safety.acknowledged)).toHaveLength(0);
    expect(kind(bridge)).toBe('dead');
    const presses =
      bridge.view().facts.conditions.find(({ id }) => id === 'lamp-no-valves')?.cautions.length ?? 0;
    for (let press = 0; press < presses + 3; press += 1) await page.press('Enter');
    expect(kind(bridge)).toBe('live');
    const before = bridge.written.length;
    await page.press('F9');
    for (let press = 0; press < 3; press += 1) await page.press('PageDown');
    expect(kind(bridge)).toBe('live');
    expect(bridge.written.slice(before).filter((event) => 'by' in event && event.by === 'foot')).toEqual([]);
  });
});

describe('reading aloud', () => {
  const spoken: { text: string; voice: string }[] = [];
  const voices = [
    { name: 'Far away', lang: 'en-GB', localService: false, default: true },
    { name: 'At home', lang: 'en-US', localService: true, default: false },
  ];
  const stub = (own: typeof voices): void => {
    vi.stubGlobal('speechSynthesis', {
      getVoices: () => own,
      cancel: () => undefined,
      speak: (said: { text: string; voice: { name: string } }) =>
        spoken.push({ text: said.text, voice: said.voice.name }),
      addEventListener: () => undefined,
      removeEventListener: () => undefined,
    });
    vi.stubGlobal(
      'SpeechSynthesisUtterance',
      class {
        text: string;
        voice = null;
        lang = '';
        constructor(text: string) {
          this.text = text;
        }
      },
    );
  };
  beforeEach(() => void spoken.splice(0));

  it('reads the step and the verdict, with a voice of this computer only', async () => {
    stub(voices);
    const bridge = fakeBridge();
    walkTo(bridge, 'read-output-cathode');
    const page = await show(bridge);
    expect(spoken).toEqual([]);
    await page.link.setSettings({ speech: 'on' });
    await page.settle();
    expect(spoken.some(({ text }) => text.startsWith('Cathode of the output valve. Read the cathode'))).toBe(
      true,
    );
    await page.type(goodFigure(bridge, 'v2-cathode'));
    await page.press('Enter');
    expect(spoken.at(-1)?.text).toMatch(/^as expected/);
    expect(new Set(spoken.map(({ voice }) => voice))).toEqual(new Set(['At home']));
  });

  it('is not offered where every voice is on somebody else’s computer, and says nothing', async () => {
    stub(voices.slice(0, 1));
    const page = await show(fakeBridge(), '#settings');
    expect(screen.getByText(/no English voice of its own/)).toBeTruthy();
    await page.link.setSettings({ speech: 'on' });
    page.link.say('Live');
    await page.settle();
    expect(spoken).toEqual([]);
  });
});

describe('timers', () => {
  it('sound once and show their words; off in the settings, only the words', async () => {
    const beeps = { started: 0 };
    const parameter = { value: 0, setValueAtTime: () => undefined, linearRampToValueAtTime: () => undefined };
    const node = {
      gain: parameter,
      frequency: parameter,
      connect: () => node,
      start: () => (beeps.started += 1),
      stop: () => undefined,
    };
    vi.stubGlobal(
      'AudioContext',
      class {
        currentTime = 0;
        destination = {};
        resume = () => Promise.resolve();
        createGain = () => node;
        createOscillator = () => node;
      },
    );
    const bridge = fakeBridge();
    walkTo(bridge, 'soak-1');
    const page = await show(bridge);
    await page.pass(290);
    expect(screen.queryByText(/Due now/)).toBeNull();
    await page.pass(20);
    expect(screen.getByText('Due now: Cathode of V2.')).toBeTruthy();
    expect(beeps.started).toBe(2);
    await page.pass(5);
    expect(beeps.started).toBe(2);
    await page.link.setSettings({ sound: 'off' });
    await page.type(goodFigure(bridge, 'v2-cathode'));
    await page.press('Enter');
    expect(screen.queryByText(/Due now/)).toBeNull();
    await page.press('Enter');
    expect(main().getByRole('table', { name: 'Readings while it is left on' })).toBeTruthy();
    await page.pass(300);
    expect(screen.getByText('The time is over. Read again: Cathode of V2.')).toBeTruthy();
    expect(beeps.started).toBe(2);
  });
});
