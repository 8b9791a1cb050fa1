import { cleanup, render, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { LinkContext } from '../../../../renderer/bridge/link-context.ts';
import { openLink } from '../../../../renderer/bridge/link.ts';
import type { Build } from '../../../../renderer/bridge/use-build.ts';
import { AlarmStrip } from '../../../../renderer/features/alarm/alarm-strip.tsx';
import { fakeBridge } from '../../helpers/fake-bridge.ts';
import { switchOn, walkTo } from '../../helpers/walk-to.ts';

const bridge = fakeBridge();
walkTo(bridge, 'on-lamp');
switchOn(bridge, 'lamp-no-valves', 'on-lamp');
const link = openLink(bridge, { read: () => ({ tick: 0, wall: 0 }) });
afterEach(cleanup);

/** Heron on the lamp with its rectifier left in, so many seconds (s) after the plug went in. */
function show(seconds: number, known = true): void {
  const view = bridge.view();
  const { energy } = view.build.safety;
  if (energy.kind !== 'live') throw new Error('Heron is not live');
  const now = { ...energy.since, tick: energy.since.tick + seconds * 1000 };
  const safety = { ...view.build.safety, valvesFitted: ['V3'] };
  const act = () => Promise.resolve(false);
  const build: Build = { ...view, now, safety, known, act, refusalsOf: () => [] };
  render(
    <LinkContext value={link}>
      <AlarmStrip build={build} />
    </LinkContext>,
  );
}

describe('the lamp clock', () => {
  it('counts down while valves are on the lamp, without an alarm', () => {
    show(48);
    expect(screen.getByText(/^4.min 12.s$/)).toBeTruthy();
    expect(screen.getByRole('alert').textContent).toBe('');
  });

  it('alarms at its end and asks for the plug', () => {
    show(300);
    expect(screen.getByRole('alert').textContent).toMatch(/^5 minutes on the lamp.*Pull the plug now: F9/);
    expect(screen.queryByText(/left\./)).toBeNull();
  });

  it('says nothing while the state is not known', () => {
    show(300, false);
    expect(screen.getByRole('alert').textContent).toBe('');
  });
});
