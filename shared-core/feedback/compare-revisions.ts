import type { RevisionComparison, RevisionReport } from './gather-report.ts';
import { shareDifference } from './wilson.ts';

/** Each revision beside the one before it, real with real and simulated with simulated. */
export function compareRevisions(revisions: readonly RevisionReport[]): readonly RevisionComparison[] {
  return revisions.flatMap((to, index) => {
    const from = revisions[index - 1];
    return from && from.simulated === to.simulated ? [compare(from, to)] : [];
  });
}

function compare(from: RevisionReport, to: RevisionReport): RevisionComparison {
  const names = from.revision === to.revision ? [tag(from), tag(to)] : [from.revision, to.revision];
  const [first = '', second = ''] = names;
  const readings = pairs(from.readings, to.readings);
  const steps = pairs(from.steps, to.steps);
  return {
    ...{ from: first, to: second, simulated: to.simulated },
    readings: readings.both.map(([one, other]) => ({
      ...{ id: other.id, title: other.title },
      outOfBand: shareDifference(one.outOfBand, other.outOfBand),
      drift:
        one.drift && other.drift
          ? {
              difference: other.drift.mean - one.drift.mean,
              uncertainty: Math.hypot(one.drift.uncertainty, other.drift.uncertainty),
            }
          : null,
    })),
    steps: steps.both.map(([one, other]) => ({
      ...{ id: other.id, title: other.title },
      reopened: shareDifference(one.reopenedIn, other.reopenedIn),
      time:
        one.seconds && other.seconds && one.seconds.median > 0
          ? other.seconds.median / one.seconds.median
          : null,
    })),
    onlyIn: [
      ...[...readings.first, ...steps.first].map((id) => ({ revision: first, id })),
      ...[...readings.second, ...steps.second].map((id) => ({ revision: second, id })),
    ],
  };
}

/** The same revision with another content goes by its hash. */
function tag({ revision, kitHash }: RevisionReport): string {
  return `${revision} (${kitHash.slice(0, 8)})`;
}

function pairs<Item extends { readonly id: string }>(one: readonly Item[], other: readonly Item[]) {
  const byId = new Map(one.map((item) => [item.id, item]));
  const ids = new Set(other.map(({ id }) => id));
  return {
    both: other.flatMap((item): (readonly [Item, Item])[] => {
      const first = byId.get(item.id);
      return first ? [[first, item]] : [];
    }),
    first: one.filter(({ id }) => !ids.has(id)).map(({ id }) => id),
    second: other.filter(({ id }) => !byId.has(id)).map(({ id }) => id),
  };
}
