import type { HostProcess } from '../hand-host/host-process.ts';
import type { Answer, Arguments, CallName } from '../../../shared-core/contract/calls.ts';
import type { Choices } from '../../../shared-core/kit/kit.ts';
import { Walker, walkBench } from '../walk-kit.ts';
import type { WalkedHost } from '../walk-kit.ts';

/** A build with its bench recorded, walked over the host's calls: the quick way to a screen. Of Heron by itself. */
export async function startWalkedBuild(
  host: HostProcess,
  bench = walkBench,
  kit: 'heron' | 'wren' | 'curlew' = 'heron',
): Promise<Walker> {
  const { kits } = await host.call('app.hello', {});
  const path = kits.find(({ id }) => id === kit)?.path ?? '';
  const choices: Choices = kit === 'heron' ? { mains: '230 V 50 Hz' } : {};
  const started = await host.call('build.start', { path, choices, startedFrom: 'loose parts' });
  if (!started.ok) throw new Error(started.problems[0].message);
  const walked: WalkedHost = {
    call: (name, given) => callAgain(host, name, given),
    pass: (milliseconds: number) => host.pass(milliseconds / 1000),
  };
  const walker = new Walker(walked, started.value);
  await walker.do({ kind: 'bench-recorded', bench, by: 'hand' });
  return walker;
}

/** A screen that is open notes which step it shows: then the walk asks again on top of that. */
async function callAgain<Name extends CallName>(
  host: HostProcess,
  name: Name,
  given: Arguments<Name>,
): Promise<Answer<Name>> {
  const answer = await host.call(name, given);
  if (!isStale(answer)) return answer;
  return callAgain(host, name, { ...given, expectedSeq: answer.view.build.seq });
}

function isStale(answer: unknown): answer is Extract<Answer<'build.act'>, { kind: 'stale' }> {
  return (answer as { readonly kind?: unknown } | null)?.kind === 'stale';
}
