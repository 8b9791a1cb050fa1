import { afterAll, describe, expect, test } from 'vitest';
import type { FitSubject } from '../../../shared-core/contract/calls.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';
import { startTestHost } from '../../helpers/start-host.ts';

const host = await startTestHost();
const path = (await host.call('app.hello', {})).kits.find(({ id }) => id === 'heron')?.path ?? '';
afterAll(async () => {
  await host.close();
  removeFolders();
});

const kit: FitSubject = { kind: 'kit', path, choices: { mains: '120 V 60 Hz' } };

describe('the call that asks about another valve', () => {
  test('answers for a kit with the choices given', async () => {
    const answer = await host.call('fit.valves', { subject: kit, valves: { V1: 'E182CC' } });
    expect(answer.ok && [answer.value.verdict, answer.value.kit]).toEqual(['no', 'heron']);
  });

  test('says what it does not know', async () => {
    const unknown = await host.call('fit.valves', { subject: kit, valves: { V1: 'ECC8A' } });
    expect(unknown.ok ? [] : unknown.problems.map(({ code }) => code)).toEqual(['kit/unknown-valve-type']);
    const nowhere = { kind: 'kit', path: newFolder(), choices: {} } as const;
    const gone = await host.call('fit.valves', { subject: nowhere, valves: { V1: 'ECC81' } });
    expect(gone.ok).toBe(false);
    const build = { kind: 'build', build: '00000000-0000-4000-8000-000000000000' } as const;
    const lost = await host.call('fit.valves', { subject: build, valves: { V1: 'ECC81' } });
    expect(lost.ok ? [] : lost.problems.map(({ code }) => code)).toEqual(['build/not-found']);
  });
});
