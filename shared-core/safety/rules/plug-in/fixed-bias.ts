import { guardPlugIn } from '../../guard.ts';
import { isInBand } from '../../lookup.ts';
import { refuse } from '../../refusal.ts';
import { isFittedIn } from '../../sockets.ts';

/**
 * Rule 4: a fixed-bias valve goes in only after its bias was read in band at its own grid pin since the
 * last work inside, with the adjusters at most negative.
 */
export const fixedBias = guardPlugIn('plug-in/fixed-bias', ({ state, facts }, condition) =>
  facts.fixedBias
    .filter(({ socket }) => isFittedIn(socket, condition))
    .filter(({ readings }) => readings.length === 0 || !readings.every((each) => isInBand(each, state)))
    .map(({ socket }) =>
      refuse(
        'safety/bias-not-proven',
        `The bias at the grid pin of ${socket} has not been read in band since the last work inside.`,
        'Take the valve out, turn the adjuster to most negative and read the bias first.',
        socket,
      ),
    ),
);

/** Rule 4: the first time with the valve in since the last work inside, its adjusters stand at most negative. */
export const adjustersMostNegative = guardPlugIn(
  'plug-in/adjusters-most-negative',
  ({ state, facts }, condition) => {
    const entered = facts.conditions.filter((each) => state.enteredSinceWork.includes(each.id));
    return facts.fixedBias
      .filter(
        ({ socket }) => isFittedIn(socket, condition) && !entered.some((each) => isFittedIn(socket, each)),
      )
      .flatMap(({ adjusters }) => adjusters)
      .filter((adjuster) => !state.adjustersMostNegative.includes(adjuster))
      .map((adjuster) =>
        refuse(
          'safety/bias-not-proven',
          `${adjuster} is not recorded at most negative.`,
          'Turn it to most negative and confirm it.',
          adjuster,
        ),
      );
  },
);
