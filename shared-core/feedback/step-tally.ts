import type { StepRecord } from '../journal/build-state.ts';
import { Tally } from './tally.ts';

/** What all builders did at one step. */
export class StepTally {
  readonly id: string;
  readonly title: string;
  /** Time from start to done, in seconds (s), where both were in one run of the app. */
  readonly seconds = new Tally();
  /** Builds that began it. */
  begun = 0;
  done = 0;
  /** Builds in which it was reopened at least once, and how often in all. */
  reopenedIn = 0;
  reopened = 0;
  /** Builds whose record was written while the step was begun and not done. */
  leftOpen = 0;
  /** Builds in which one of its readings went past a stop limit. */
  stoppedIn = 0;
  notes = 0;
  /** Builds in which a repair named a place that the step makes; counted with the kit at hand only. */
  repairedIn = 0;

  constructor(id: string, title: string) {
    this.id = id;
    this.title = title;
  }

  count(step: StepRecord, by: 1 | -1): void {
    if (step.status === 'declared') return;
    this.begun += by;
    if (step.status === 'done') this.done += by;
    if (step.status === 'started') this.leftOpen += by;
    if (step.reopened > 0) this.reopenedIn += by;
    this.reopened += by * step.reopened;
    const { seconds } = step;
    if (typeof seconds !== 'number' || seconds < 0) return;
    if (by === 1) this.seconds.add(seconds);
    else this.seconds.remove(seconds);
  }
}
