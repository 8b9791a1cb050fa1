import type { EnergyState } from '../safety/energy-state.ts';

/** What a line of the story is about; the report tells only part of them. */
export type StoryKind =
  | 'begin'
  | 'run'
  | 'bench'
  | 'step'
  | 'caution'
  | 'reading'
  | 'finding'
  | 'stop'
  | 'wrong'
  | 'repair'
  | 'accepted'
  | 'plug-in'
  | 'plug-out'
  | 'look'
  | 'proven'
  | 'lapse'
  | 'fuse'
  | 'valve'
  | 'note'
  | 'kit-change'
  | 'refused'
  | 'sign'
  | 'other';

/** One line of the story: what happened, and what the amplifier counted as afterwards. */
export interface StoryLine {
  readonly seq: number;
  /** UTC ISO text. */
  readonly at: string;
  readonly kind: StoryKind;
  readonly text: string;
  readonly energy: EnergyState['kind'];
}
