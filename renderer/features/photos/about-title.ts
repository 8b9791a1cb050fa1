import type { Build } from '../../bridge/use-build.ts';

/** The title of the step or reading that a note or photo belongs to. */
export function aboutTitle({ facts }: Pick<Build, 'facts'>, about: string | null): string {
  const all = [...facts.steps, ...facts.readings];
  return all.find(({ id }) => id === about)?.title ?? 'the build';
}
