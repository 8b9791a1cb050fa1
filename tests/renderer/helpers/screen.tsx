import { act, cleanup, fireEvent, render } from '@testing-library/react';
import { App } from '../../../renderer/app/app.tsx';
import { LinkContext } from '../../../renderer/bridge/link-context.ts';
import { openLink } from '../../../renderer/bridge/link.ts';
import type { Link } from '../../../renderer/bridge/link.ts';
import type { FakeBridge } from './fake-bridge.ts';

/** The app on a bridge, used by keyboard. */
export interface Screen {
  readonly link: Link;
  /** A key at the focus, with what a browser does by itself on a control. */
  readonly press: (key: string, options?: { readonly repeat?: boolean }) => Promise<void>;
  /** Types into the focused field, in place of what is there. */
  readonly type: (text: string) => Promise<void>;
  /** Time passes on both sides, in seconds (s). */
  readonly pass: (seconds: number) => Promise<void>;
  /** Lets answers arrive. */
  readonly settle: () => Promise<void>;
  readonly close: () => void;
}

/** Shows the app at an address. */
export async function showApp(bridge: FakeBridge, hash = ''): Promise<Screen> {
  location.hash = hash;
  const wall = Date.parse('2026-03-07T09:00:00.000Z');
  const shift = { ms: 0 };
  const link = openLink(bridge, {
    read: () => ({ tick: bridge.tick() + shift.ms, wall: wall + bridge.tick() + shift.ms }),
  });
  render(
    <LinkContext value={link}>
      <App />
    </LinkContext>,
  );
  const settle = async (): Promise<void> => {
    await act(async () => {
      for (let turn = 0; turn < 20; turn += 1) await Promise.resolve();
      await new Promise((resolve) => setTimeout(resolve, 0));
    });
  };
  bridge.pass(0.1);
  await settle();
  return {
    link,
    settle,
    press: async (key, { repeat = false } = {}) => {
      const target = document.activeElement ?? document.body;
      await act(() => {
        const isPlain = fireEvent.keyDown(target, { key, repeat });
        if (!isPlain || key !== 'Enter') return Promise.resolve();
        if (target instanceof HTMLButtonElement) fireEvent.click(target);
        if (target instanceof HTMLInputElement && target.form !== null) fireEvent.submit(target.form);
        return Promise.resolve();
      });
      await settle();
    },
    type: async (text) => {
      const field = document.activeElement;
      if (!(field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement))
        throw new Error(`The focus is on ${field?.tagName}, not in a field`);
      fireEvent.change(field, { target: { value: text } });
      await settle();
    },
    pass: async (seconds) => {
      await act(() => {
        bridge.pass(seconds);
        // A leap of the played clock looks like sleep; the heartbeat after it says that the host is there.
        link.look();
        bridge.pass(0);
        return Promise.resolve();
      });
      await settle();
    },
    close: () => {
      link.close();
      cleanup();
      location.hash = '';
    },
  };
}

/** The build's walk-through. */
export const walkHash = '#build/build-1/walk';
