import { useState } from 'react';
import type { Scene } from '../../shared-core/drawing/scene.ts';
import { ActButton } from './act-button.tsx';
import { Dialog } from './dialog.tsx';
import { SceneView } from './scene-view.tsx';

interface FigureViewProps {
  readonly scene: Scene;
  readonly caption: string;
  /** Type larger than the drawing asks for. */
  readonly typeScale?: number;
}

/** A drawing with its caption, and the same over the whole window. */
export function FigureView({ scene, caption, typeScale = 1 }: FigureViewProps) {
  const [isLarge, setLarge] = useState(false);
  return (
    <figure>
      <SceneView scene={scene} typeScale={typeScale} />
      <figcaption>
        {caption} ·{' '}
        <ActButton look="quiet" onAct={() => setLarge(true)}>
          larger
        </ActButton>
      </figcaption>
      <Dialog title={caption} open={isLarge} onCancel={() => setLarge(false)}>
        <div className="figure-large">
          <SceneView scene={scene} />
        </div>
        <div className="dialog-keys">
          <ActButton look="move" onAct={() => setLarge(false)}>
            Back
          </ActButton>
        </div>
      </Dialog>
    </figure>
  );
}
