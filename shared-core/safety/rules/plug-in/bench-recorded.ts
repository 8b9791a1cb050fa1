import type { ConditionFacts, ReadingFacts } from '../../facts.ts';
import { guardPlugIn } from '../../guard.ts';
import { coarsestMeter, mainsShare } from '../../limits.ts';
import { refuse } from '../../refusal.ts';

/** Rule 2: mains value and meter are recorded. */
export const benchRecorded = guardPlugIn('plug-in/bench-recorded', ({ state: { bench } }) =>
  bench !== null && bench.mains.volts > 0 && bench.meter.ratedVolts > 0
    ? []
    : [
        refuse(
          'safety/bench-missing',
          'Mains value and meter are not recorded.',
          'Set up the bench: mains, meter, leads.',
        ),
      ],
);

const fromTheWall: ReadonlySet<string> = new Set(['mains', 'lamp', 'variac']);

/** The primary that was proven cold is for this mains: 230 V on a 120 V winding burns it and bursts capacitors. */
export const mainsOfTheKit = guardPlugIn(
  'plug-in/mains-of-the-kit',
  ({ state: { bench }, facts: { primaryVolts } }, condition) => {
    if (bench === null || !fromTheWall.has(condition.supply)) return [];
    const { volts } = bench.mains;
    const isOwn = primaryVolts !== null && Math.abs(volts / primaryVolts - 1) <= mainsShare;
    if (isOwn) return [];
    const madeFor = primaryVolts === null ? 'a mains that is not known' : `${primaryVolts} V`;
    return [
      refuse(
        'safety/mains-differ',
        `The transformer of this build is made for ${madeFor}; the bench has ${volts} V.`,
        'Correct the mains value of the bench, or start the build with the transformer that is really there.',
      ),
    ];
  },
);

/** A meter that is said to be this coarse would pass anything. */
export const meterFineEnough = guardPlugIn('plug-in/meter-fine-enough', ({ state: { bench } }) =>
  bench === null || Object.values(bench.meter.accuracy).every((share) => share <= coarsestMeter)
    ? []
    : [
        refuse(
          'safety/meter-too-coarse',
          `A meter that may be more than ${100 * coarsestMeter} % wrong cannot tell a good reading from a bad one.`,
          'Look at the accuracy in the bench: 1 means 1 %.',
        ),
      ],
);

/** Rule 2: no reading may exceed what meter or leads are made for, at high mains and unloaded. */
export const withinMeterRating = guardPlugIn(
  'plug-in/within-meter-rating',
  ({ state: { bench } }, condition) => {
    if (bench === null) return [];
    const rated = Math.min(bench.meter.ratedVolts, bench.leads.ratedVolts);
    if (condition.maxVolts !== null && condition.maxVolts <= rated) return [];
    const reached =
      condition.maxVolts === null ? 'an unknown voltage' : `${Math.round(condition.maxVolts)} V`;
    return [
      refuse(
        'safety/over-meter-rating',
        `A probe can meet ${reached} here; meter and leads are rated ${rated} V.`,
        'Use a meter and leads with a higher rating.',
        condition.id,
      ),
    ];
  },
);

/** Rule 2: readings on the mains side need CAT II. */
export const mainsNeedsCategory = guardPlugIn(
  'plug-in/mains-needs-category',
  ({ state: { bench } }, condition) =>
    bench !== null && condition.hasMainsSideReadings && bench.meter.category === 'none'
      ? [
          refuse(
            'safety/meter-category',
            'A reading on the mains side needs a meter and leads of CAT II or higher.',
            'Use a meter and leads marked CAT II, III or IV.',
            condition.id,
          ),
        ]
      : [],
);

/**
 * Rule 2: a red lead left in the current socket is a short across what it touches.
 *
 * On the insulation tester the meter touches nothing, as long as every reading there is the tester's own.
 */
export const redLeadInVolts = guardPlugIn('plug-in/red-lead-in-volts', ({ state, facts }, condition) =>
  state.redLeadInVolts || isTesterAlone(condition, facts.readings)
    ? []
    : [
        refuse(
          'safety/red-lead',
          '“Red lead in the volts socket” is not confirmed.',
          'Look at the meter, then confirm it.',
        ),
      ],
);

function isTesterAlone({ id, supply }: ConditionFacts, readings: readonly ReadingFacts[]): boolean {
  return (
    supply === 'insulation-tester' &&
    readings.every((reading) => reading.in !== id || reading.measure === 'insulation')
  );
}
