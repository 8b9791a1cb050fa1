/** Every reason for which the machine says no. */
export const refusalCodes = [
  'safety/by-hand-only',
  'safety/not-dead',
  'safety/not-live',
  'safety/already-live',
  'safety/plug-not-confirmed-out',
  'safety/pull-the-plug',
  'safety/unknown-name',
  'safety/steps-not-done',
  'safety/verdict-open',
  'safety/stop-not-acceptable',
  'safety/gate-not-acceptable',
  'safety/nothing-to-accept',
  'safety/reason-missing',
  'safety/bench-missing',
  'safety/mains-differ',
  'safety/meter-too-coarse',
  'safety/clip-fitted',
  'safety/clip-unsuitable',
  'safety/black-lead-first',
  'safety/mains-switch-not-off',
  'safety/caution-not-acknowledged',
  'safety/over-meter-rating',
  'safety/meter-category',
  'safety/red-lead',
  'safety/instrument-not-recorded',
  'safety/instrument-volts',
  'safety/probe-style',
  'safety/probe-not-shown',
  'safety/gate-not-met',
  'safety/insulation-not-settled',
  'safety/fuse-not-read',
  'safety/fuse-differs',
  'safety/bias-not-proven',
  'safety/valves-differ',
  'safety/reentry',
  'safety/after-work',
  'safety/lamp-stage-first',
  'safety/wrong-not-described',
  'safety/wrong-condition',
  'safety/step-not-finished',
  'safety/readings-apart',
  'safety/solder-volts',
  'safety/ohms-volts',
  'safety/meter-not-shown',
  'safety/stores-unknown',
  'safety/look-missing',
  'safety/second-look-missing',
  'safety/look-not-checked',
  'safety/look-not-dc',
  'safety/fuse-sides',
  'safety/fuse-replaced-once',
  'safety/kit-change-not-dead',
  'safety/not-a-number',
] as const;

export type RefusalCode = (typeof refusalCodes)[number];

/** Why something is not allowed now, in the builder's words; a record like `KitProblem`. */
export interface Refusal {
  readonly code: RefusalCode;
  readonly severity: 'error';
  /** What is in the way. */
  readonly message: string;
  /** What to do about it. */
  readonly hint: string;
  /** The step, reading, store, caution or part that is meant; null when there is no one thing. */
  readonly subject: string | null;
  /** When this is met by waiting and measuring: not before this tick, in milliseconds (ms). */
  readonly notBeforeTick: number | null;
}

/** A refusal from its words. */
export function refuse(
  code: RefusalCode,
  message: string,
  hint: string,
  subject: string | null = null,
  notBeforeTick: number | null = null,
): Refusal {
  return { code, severity: 'error', message, hint, subject, notBeforeTick };
}
