import { guardPlugIn } from '../../guard.ts';
import { refuse } from '../../refusal.ts';
import { socketDifferences, type SocketDifference } from '../../sockets.ts';

/**
 * What is recorded in the sockets is what the condition is made for, no valve more and none less.
 *
 * Every band, stop limit and the cold bias stage rest on it: a valve too many in a stage without valves meets
 * voltages that nobody has read yet.
 */
export const valvesAsStated = guardPlugIn('plug-in/valves-as-stated', ({ state, facts }, condition) =>
  socketDifferences(condition, state, facts).map((difference) =>
    refuse(
      'safety/valves-differ',
      wordsOf(difference, condition.title),
      hintOf(difference),
      difference.socket,
    ),
  ),
);

function wordsOf({ socket, is, shouldBe }: SocketDifference, title: string): string {
  const recorded =
    is === 'not known'
      ? `It is not recorded whether a valve is in ${socket}`
      : is === 'fitted'
        ? `A valve is recorded in ${socket}`
        : `${socket} is recorded as empty`;
  return `${recorded}; “${title}” is made for ${shouldBe === 'empty' ? `an empty ${socket}` : `a valve in ${socket}`}.`;
}

function hintOf({ socket, is, shouldBe }: SocketDifference): string {
  const what =
    shouldBe === 'fitted'
      ? is === 'not known'
        ? `Look whether ${socket} has its valve, fit it if not, and record what is printed on it`
        : `Fit the valve in ${socket} and record it`
      : is === 'not known'
        ? `Look whether ${socket} is empty, take the valve out if not, and record it`
        : `Take the valve out of ${socket} and record it`;
  return `${what}; only while the amplifier is proven dead. Glass that was on is hot: wait until it has cooled.`;
}
