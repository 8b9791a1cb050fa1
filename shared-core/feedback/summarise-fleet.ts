import type { Kit } from '../kit/kit.ts';
import { compareRevisions } from './compare-revisions.ts';
import { lotsNotRecorded } from './covariates.ts';
import { explainGroup } from './explain-group.ts';
import type { Fleet } from './fleet.ts';
import type { GatherReport } from './gather-report.ts';
import { summariseGroup } from './summarise-group.ts';

/** What was found beside the fleet. */
export type FoundFiles = Pick<GatherReport, 'files' | 'aside' | 'otherFiles'>;

/** The kit at hand, with its hash: only a revision with this content is explained by it. */
export interface KitAtHand {
  readonly kit: Kit;
  readonly hash: string;
}

/** Everything that many records say. */
export function summariseFleet(fleet: Fleet, found: FoundFiles, atHand: KitAtHand | null): GatherReport {
  const groups = fleet.groups();
  const revisions = groups.map((group) => {
    const isAtHand = atHand !== null && group.kit.kitHash === atHand.hash;
    const report = summariseGroup(group, isAtHand);
    const explanation = isAtHand ? explainGroup(group, atHand.kit) : null;
    return explanation ? { ...report, explanation } : report;
  });
  const countOf = (simulated: boolean): number =>
    revisions.reduce((sum, each) => sum + (each.simulated === simulated ? each.builds : 0), 0);
  return {
    ...{ format: 'kitwright-gather/1', kit: fleet.kit, ...found },
    ...{ counted: countOf(false), simulated: countOf(true) },
    revisions,
    comparisons: compareRevisions(revisions),
    notes: [lotsNotRecorded, ...notesOf(groups, atHand)],
  };
}

function notesOf(groups: ReturnType<Fleet['groups']>, atHand: KitAtHand | null): readonly string[] {
  if (atHand === null)
    return ['Without the kit (--kit) no parameter change is looked for, and no step is named by its joints.'];
  const others = groups.filter(({ kit }) => kit.kitHash !== atHand.hash);
  if (others.length === 0) return [];
  const names = [...new Set(others.map(({ kit }) => `${kit.revision} (${kit.kitHash.slice(0, 8)})`))].join(
    ', ',
  );
  return [`The kit at hand has another content than ${names}: no parameter change was looked for there.`];
}
