import type { Unit } from '../units/unit.ts';
import type { FleetExplanation } from './explain-fleet.ts';
import type { AsideRecord } from './inspect-record.ts';
import type { Share, ShareDifference } from './wilson.ts';

/** What `kitwright gather --json` prints. SI units; deviations in half-bands, where ±1 is the edge of a band. */
export interface GatherReport {
  readonly format: 'kitwright-gather/1';
  /** Id of the kit; null where no record was counted. */
  readonly kit: string | null;
  readonly files: number;
  /** Records counted; those marked as simulated are not among them. */
  readonly counted: number;
  readonly simulated: number;
  readonly aside: readonly AsideRecord[];
  /** Files in the folders that are not `.json`: not looked into. */
  readonly otherFiles: number;
  readonly revisions: readonly RevisionReport[];
  readonly comparisons: readonly RevisionComparison[];
  /** What holds for all of it, in sentences. */
  readonly notes: readonly string[];
}

/** A name and how often it was met. */
export interface Counted {
  readonly name: string;
  readonly count: number;
}

/** Quartiles of a quantity. */
export interface Quartiles {
  readonly count: number;
  readonly lower: number;
  readonly median: number;
  readonly upper: number;
}

/** One revision of the kit. */
export interface RevisionReport {
  readonly kit: string;
  readonly name: string;
  readonly maker: string;
  readonly revision: string;
  readonly kitHash: string;
  /** Made by `kitwright rehearse`, no builder and no amplifier. */
  readonly simulated: boolean;
  readonly builds: number;
  readonly signed: Share;
  readonly declared: number;
  readonly repaired: Share;
  readonly stopped: Share;
  readonly somethingWrong: Share;
  readonly questions: number;
  /** From the first event to the last, in seconds (s). */
  readonly seconds: Quartiles | null;
  /** Time of the latest event of all, UTC ISO text. */
  readonly lastAt: string;
  readonly choices: readonly Counted[];
  readonly readings: readonly ReadingReport[];
  readonly steps: readonly StepReport[];
  readonly faultPoints: readonly FaultPoint[];
  readonly covariates: readonly CovariateReport[];
  readonly causes: readonly Counted[];
  readonly signs: readonly Counted[];
  readonly notes: readonly Counted[];
  /** Texts for which there was no room in the lists above. */
  readonly unlisted: number;
  /** Only with the kit at hand. */
  readonly explanation?: FleetExplanation;
}

/** What builders read at one place. */
export interface ReadingReport {
  readonly id: string;
  readonly title: string;
  readonly condition: string;
  readonly unit: Unit;
  /** Builds that took it, and those whose meter showed OL. */
  readonly taken: number;
  readonly overloads: number;
  /** First numbers, in the reading's unit; `spread` is the distance of the quartiles. */
  readonly values: (Quartiles & { readonly spread: number }) | null;
  /** Verdicts on the first numbers. */
  readonly verdicts: readonly Counted[];
  readonly outOfBand: Share;
  readonly stop: Share;
  readonly again: number;
  readonly shownBefore: number;
  readonly accepted: number;
  readonly reasons: readonly Counted[];
  readonly drift: Drift | null;
  /** How the deviations lie, for drawing: counts between the edges of `deviationEdges`. */
  readonly distribution: readonly number[];
  readonly separations: readonly Separation[];
}

/** How far the fleet is from the prediction, in half-bands. */
export interface Drift {
  readonly mean: number;
  /** 95 % of the mean, to either side. */
  readonly uncertainty: number;
  /** Spread of the single builds, one standard deviation. */
  readonly spread: number;
  readonly count: number;
  /** Builds further than 3.5 standard deviations from the median: errors of single builders, left out. */
  readonly outliers: number;
  /** `drift`: the prediction is off; `none`: it is not seen to be; `too few`: fewer than five builds. */
  readonly finding: 'drift' | 'none' | 'too few';
}

/** Whether a reading goes with something beside the kit. */
export interface Separation {
  readonly matter: string;
  readonly level: string;
  readonly count: number;
  /** This level's mean less that of all others, in half-bands. */
  readonly difference: number | null;
  /** 95 %, to either side. */
  readonly uncertainty: number | null;
  readonly finding: 'differs' | 'no difference seen' | 'cannot be separated';
}

/** Something beside the kit that may move readings, with what it was in the fleet. */
export interface CovariateReport {
  readonly matter: string;
  readonly levels: readonly Counted[];
  /** Why it cannot be told apart from the kit, or from another matter; null where it can. */
  readonly cannot: string | null;
}

/** What builders did at one step. */
export interface StepReport {
  readonly id: string;
  readonly title: string;
  readonly begun: number;
  readonly done: number;
  readonly seconds: Quartiles | null;
  readonly reopened: number;
  readonly reopenedIn: Share;
  readonly stoppedIn: Share;
  readonly leftOpen: number;
  readonly notes: number;
  /** Builds in which a repair named a place that it solders; null without the kit at hand. */
  readonly repairedIn: Share | null;
}

/** Where builds go wrong. */
export interface FaultPoint {
  readonly kind: 'reading' | 'step';
  readonly id: string;
  readonly title: string;
  readonly what: 'first reading out of band or stop' | 'reopened' | 'a repair there';
  readonly share: Share;
}

/** Two revisions side by side. */
export interface RevisionComparison {
  readonly from: string;
  readonly to: string;
  readonly simulated: boolean;
  readonly readings: readonly {
    readonly id: string;
    readonly title: string;
    readonly outOfBand: ShareDifference | null;
    /** Drift of the second less that of the first, in half-bands, with 95 %. */
    readonly drift: { readonly difference: number; readonly uncertainty: number } | null;
  }[];
  readonly steps: readonly {
    readonly id: string;
    readonly title: string;
    readonly reopened: ShareDifference | null;
    /** Ratio of the median times. */
    readonly time: number | null;
  }[];
  /** Readings and steps of one of them only. */
  readonly onlyIn: readonly { readonly revision: string; readonly id: string }[];
}
