import type { ConditionFacts } from '../../../shared-core/safety/facts.ts';

/**
 * Which valves are in their sockets in a condition; null where that does not matter.
 *
 * Said before every plug, because a stage is also repeated after work inside, without the step that fits valves.
 */
export function socketWords(
  { supply, fitted }: Pick<ConditionFacts, 'supply' | 'fitted'>,
  sockets: readonly string[],
): string | null {
  if (sockets.length === 0 || supply === 'insulation-tester') return null;
  const isIn = (socket: string): boolean => fitted === 'all' || fitted.includes(socket);
  const own = sockets.filter(isIn);
  const others = sockets.filter((socket) => !isIn(socket));
  const first = `In the sockets for this: ${own.length === 0 ? 'no valve' : own.join(', ')}.`;
  if (others.length === 0) return first;
  return `${first} Take ${others.join(', ')} out if ${others.length === 1 ? 'it is' : 'they are'} in.`;
}

/** What to do and to watch at the moment of switching on. */
export function plugWords(supply: ConditionFacts['supply']): string {
  switch (supply) {
    case 'insulation-tester':
      return 'Connect the tester now. Fingers off both leads and the inlet while its button is down.';
    case 'lamp':
      return 'Plug in now, one hand behind your back, and watch the lamp: it flashes and goes dark or nearly so. If it stays bright there is a short: pull the plug, F9.';
    default:
      return 'Plug in now. Watch, listen, and keep one hand behind your back.';
  }
}
