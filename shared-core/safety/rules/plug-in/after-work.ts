import { guardPlugIn } from '../../guard.ts';
import { isPassedOrAccepted, lampStageOf } from '../../lookup.ts';
import { refuse } from '../../refusal.ts';

/** Rule 11: after work inside, look over and repeat the cold readings it touched. */
export const workLookedOver = guardPlugIn('plug-in/work-looked-over', ({ state: { afterWork } }) =>
  afterWork === null || afterWork.lookedOver
    ? []
    : [
        refuse(
          'safety/after-work',
          'The work inside has not been looked over.',
          'Look for solder splashes, cut-offs, clearances and tools left inside, then confirm it.',
        ),
      ],
);

export const workReadAgain = guardPlugIn('plug-in/work-read-again', ({ state }) =>
  (state.afterWork?.readings ?? [])
    .filter((reading) => !isPassedOrAccepted(reading, state))
    .map((reading) =>
      refuse(
        'safety/after-work',
        `${reading} has not been read again since the work inside.`,
        'Take this cold reading again.',
        reading,
      ),
    ),
);

/** Rule 11: then the lamp stage again, before anything else. */
export const lampStageFirst = guardPlugIn('plug-in/lamp-stage-first', ({ state, facts }, condition) => {
  if (state.afterWork === null) return [];
  const lampStage = lampStageOf(facts);
  if (condition.id === lampStage || condition.supply === 'insulation-tester') return [];
  return [
    refuse(
      'safety/lamp-stage-first',
      'After work inside the lamp stage comes first.',
      'Go through the lamp-limited stage again, with its readings.',
      lampStage,
    ),
  ];
});

/** Rule 10: what went wrong is said before the next plug-in. */
export const wrongDescribed = guardPlugIn('plug-in/wrong-described', ({ state: { wrong } }) =>
  wrong !== null && wrong.signs === null
    ? [
        refuse(
          'safety/wrong-not-described',
          'Something was wrong, and it has not been said what.',
          'Choose what you noticed.',
        ),
      ]
    : [],
);
