import { describe, expect, it, vi } from 'vitest';
import type { HostEvent } from '../../../shared-core/contract/calls.ts';
import { isKnown, nowOf, openLink } from '../../../renderer/bridge/link.ts';
import { fakeBridge } from '../helpers/fake-bridge.ts';

function open() {
  const bridge = fakeBridge();
  const shift = { ms: 0 };
  const link = openLink(bridge, {
    read: () => ({ tick: bridge.tick() + shift.ms, wall: bridge.tick() + shift.ms }),
  });
  return { bridge, link, shift, state: () => link.store.getState() };
}

describe('the link to the host', () => {
  it('knows nothing before the first heartbeat, and two seconds after the last', async () => {
    const { bridge, link, shift, state } = open();
    await link.openBuild('build-1');
    expect(isKnown(state())).toBe(false);
    bridge.pass(0.5);
    link.look();
    expect(isKnown(state())).toBe(true);
    // Half a second at a time, as the screen looks at its clock: a larger step would be sleep.
    for (const ms of [500, 1_000, 1_500, 1_999]) {
      shift.ms = ms;
      link.look();
    }
    expect(isKnown(state())).toBe(true);
    shift.ms = 2_000;
    link.look();
    expect(isKnown(state())).toBe(false);
  });

  it('knows nothing after sleep until the host is heard again', async () => {
    const { bridge, link, shift, state } = open();
    await link.openBuild('build-1');
    bridge.pass(0.5);
    link.look();
    shift.ms = 10_000;
    link.look();
    shift.ms = 0;
    expect(state().woke).toBe(true);
    expect(isKnown(state())).toBe(false);
    bridge.pass(0.5);
    expect(isKnown(state())).toBe(true);
  });

  it('knows nothing where another face of the app is the one writer', async () => {
    const { bridge, link, state } = open();
    link.showBuild({ ...bridge.view(), writer: false });
    bridge.pass(0.5);
    expect(isKnown(state())).toBe(false);
  });

  it('estimates the clock of the host between two heartbeats', async () => {
    const { bridge, link, shift, state } = open();
    bridge.pass(1);
    const { tick } = nowOf(state());
    shift.ms = 700;
    link.look();
    expect(nowOf(state()).tick).toBe(tick + 700);
  });

  it('sends actions one after the other, each on the entry before it', async () => {
    const { bridge, link } = open();
    await link.openBuild('build-1');
    const written = await Promise.all(
      ['one', 'two', 'three'].map((text) =>
        link.act({ kind: 'note-written', about: null, text, by: 'hand' }),
      ),
    );
    expect(written).toEqual([true, true, true]);
    expect(bridge.view().build.notes.map(({ text }) => text)).toEqual(['one', 'two', 'three']);
  });

  it('shows the newer build and writes nothing when another entry came first', async () => {
    const { bridge, link, state } = open();
    link.showBuild(bridge.view());
    const stale = bridge.view();
    bridge.do({ kind: 'note-written', about: null, text: 'elsewhere', by: 'hand' });
    link.showBuild(stale);
    expect(await link.act({ kind: 'note-written', about: null, text: 'mine', by: 'hand' })).toBe(false);
    expect(state().view?.build.notes.map(({ text }) => text)).toEqual(['elsewhere']);
    expect(state().said).toContain('decide again');
  });

  it.each(['after its answer', 'before its answer'])(
    'catches up with what was written elsewhere %s while its own action is under way',
    async (when) => {
      const bridge = fakeBridge();
      const hearers: ((event: HostEvent) => void)[] = [];
      const elsewhere = (): void => {
        bridge.do({ kind: 'note-written', about: null, text: 'elsewhere', by: 'hand' });
        const { build, seq } = bridge.view().build;
        for (const hear of hearers) hear({ kind: 'build-changed', build, seq });
      };
      const call: typeof bridge.call = async (name, given) => {
        if (name !== 'build.act') return bridge.call(name, given);
        if (when === 'before its answer') elsewhere();
        const answer = await bridge.call(name, given);
        if (when === 'after its answer') elsewhere();
        return answer;
      };
      const listen = (hear: (event: HostEvent) => void): (() => void) => {
        hearers.push(hear);
        return () => undefined;
      };
      const link = openLink({ ...bridge, call, listen }, { read: () => ({ tick: 0, wall: 0 }) });
      link.showBuild(bridge.view());
      await link.act({ kind: 'note-written', about: null, text: 'mine', by: 'hand' });
      await vi.waitFor(() => {
        expect(link.store.getState().view?.build.seq).toBe(bridge.view().build.seq);
      });
      expect(link.store.getState().view?.build.notes.at(-1)?.text).toBe('elsewhere');
    },
  );

  it('never puts an older answer in place of a newer one', async () => {
    const { bridge, link, state } = open();
    const older = bridge.view();
    bridge.do({ kind: 'note-written', about: null, text: 'newer', by: 'hand' });
    const late = openLink(
      { ...bridge, call: (async () => ({ kind: 'stale', view: older })) as typeof bridge.call },
      { read: () => ({ tick: 0, wall: 0 }) },
    );
    late.showBuild(bridge.view());
    await late.act({ kind: 'note-written', about: null, text: 'mine', by: 'hand' });
    expect(late.store.getState().view?.build.notes.map(({ text }) => text)).toEqual(['newer']);
    expect(state().view).toBeNull();
    link.close();
  });

  it('says on the screen, not only in the live region, that nothing was written', async () => {
    const { bridge, link, state } = open();
    const stale = bridge.view();
    bridge.do({ kind: 'note-written', about: null, text: 'elsewhere', by: 'hand' });
    link.showBuild(stale);
    await link.act({ kind: 'mains-switch-off', by: 'hand' });
    expect(
      state()
        .problems.map(({ message }) => message)
        .join(),
    ).toContain('written first');
  });

  it('writes an alarm even when another entry came first', async () => {
    const { bridge, link, state } = open();
    const stale = bridge.view();
    bridge.do({ kind: 'note-written', about: null, text: 'elsewhere', by: 'hand' });
    link.showBuild(stale);
    expect(await link.act({ kind: 'found-plugged-in', by: 'hand' })).toBe(true);
    expect(state().view?.build.safety.energy).toMatchObject({ kind: 'draining', why: 'found plugged in' });
  });

  it.each(['something-wrong', 'plug-out-confirmed'] as const)(
    'lets %s go past a number that is still being judged',
    async (kind) => {
      const { bridge, state: _, ...rest } = open();
      rest.link.close();
      const asked: string[] = [];
      const call: typeof bridge.call = (name, given) => {
        const { action } = given as { readonly action?: { readonly kind: string } };
        asked.push(action?.kind ?? name);
        // The number is never answered here.
        return action?.kind === 'enter-reading' ? new Promise(() => undefined) : bridge.call(name, given);
      };
      const link = openLink({ ...bridge, call }, { read: () => ({ tick: 0, wall: 0 }) });
      link.showBuild(bridge.view());
      void link.act({ kind: 'enter-reading', reading: 'b1-cold', typed: '1', corrects: null, by: 'hand' });
      const note = link.act({ kind: 'note-written', about: null, text: 'waits', by: 'hand' });
      await link.act({ kind, by: 'hand' });
      expect(asked).toEqual(['enter-reading', kind]);
      expect(await Promise.race([note, Promise.resolve('waits')])).toBe('waits');
    },
  );

  it('keeps why the rules refused, with what to do', async () => {
    const { link, state } = open();
    await link.openBuild('build-1');
    expect(await link.act({ kind: 'plugged-in', condition: 'running', step: null, by: 'hand' })).toBe(false);
    expect(state().refused.map(({ code }) => code)).toContain('safety/bench-missing');
    expect(state().said).toContain('Set up the bench');
  });

  it('says that the host does not answer, and that the amplifier counts as live', async () => {
    const { bridge, link, state } = open();
    await link.openBuild('build-1');
    bridge.die();
    expect(await link.act({ kind: 'mains-switch-off', by: 'hand' })).toBe(false);
    expect(await link.blob('report', { build: 'build-1' })).toBeNull();
    expect(state().problems[0]?.message).toBe('The host does not answer.');
    expect(state().problems[0]?.hint).toContain('Treat the amplifier as live');
  });

  it('fetches the build again when somebody else wrote to it', async () => {
    const { bridge, link, state } = open();
    await link.openBuild('build-1');
    bridge.do({ kind: 'note-written', about: null, text: 'elsewhere', by: 'hand' });
    await new Promise((resolve) => setTimeout(resolve, 0));
    expect(state().view?.build.notes).toHaveLength(1);
  });
});
