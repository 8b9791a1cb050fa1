import type { Scene, SceneItem } from '../../shared-core/drawing/scene.ts';

interface SceneViewProps {
  readonly scene: Scene;
  /** Drawn again beside words that say the same: hidden from screen readers. */
  readonly decorative?: boolean;
  /** Type larger than the drawing asks for: drawings made for a page, shown in a column. */
  readonly typeScale?: number;
}

/** A line drawing of the core, as SVG; its inks are classes, so that it follows the theme. */
export function SceneView({ scene, decorative = false, typeScale = 1 }: SceneViewProps) {
  const { width, height, title, items } = scene;
  const name = decorative ? { 'aria-hidden': true } : { role: 'img', 'aria-label': title };
  return (
    <svg className="scene" viewBox={`0 0 ${width} ${height}`} {...name}>
      {items.map((item, index) => (
        // A scene is drawn whole each time; its items have no identity beyond their place.
        <Item key={index} item={item} typeScale={typeScale} />
      ))}
    </svg>
  );
}

function Item({ item, typeScale }: { readonly item: SceneItem; readonly typeScale: number }) {
  if (item.kind === 'path') {
    const { d, ink, fill, weight, dashed = false } = item;
    const names = [ink === null ? '' : `stroke-${ink} weight-${weight}`, `fill-${fill ?? 'none'}`];
    return <path d={d} className={names.join(' ')} strokeDasharray={dashed ? '6 4' : undefined} />;
  }
  const { x, y, text, size, anchor, ink, bold = false, mono = false } = item;
  const names = [`fill-${ink}`, mono ? 'mono' : '', bold ? 'bold' : ''];
  return (
    <text x={x} y={y} fontSize={size * typeScale} textAnchor={anchor} className={names.join(' ').trim()}>
      {text}
    </text>
  );
}
