import { guardPlugIn } from '../../guard.ts';
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

/** Rule 2: a red lead left in the current socket is a short across what it touches. */
export const redLeadInVolts = guardPlugIn('plug-in/red-lead-in-volts', ({ state }) =>
  state.redLeadInVolts
    ? []
    : [
        refuse(
          'safety/red-lead',
          '“Red lead in the volts socket” is not confirmed.',
          'Look at the meter, then confirm it.',
        ),
      ],
);
