import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';

interface AdjusterButtonProps {
  readonly build: Build;
  readonly adjuster: string;
}

/** Confirms that a bias adjuster stands where the grid is most negative. */
export function AdjusterButton({ build, adjuster }: AdjusterButtonProps) {
  const title = build.kit.parts.find(({ id }) => id === adjuster)?.title;
  return (
    <p>
      {title === undefined ? adjuster : `${adjuster}, ${title}`}: turn it to the end where the grid is most
      negative.{' '}
      <ActButton
        look="plain"
        blocked={!build.known}
        onAct={(by) => void build.act({ kind: 'adjuster-set', adjuster, mostNegative: true, by })}
      >
        {adjuster} is at most negative
      </ActButton>
    </p>
  );
}
