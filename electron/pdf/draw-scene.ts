import type { Ink, Scene, Weight } from '../../shared-core/drawing/scene.ts';
import { colours } from './faces.ts';
import type { Sheet } from './sheet.ts';

const weights: Readonly<Record<Weight, number>> = { hair: 0.4, line: 0.8, bold: 1.5 };

/** Smallest type in a drawing, in points. */
const leastType = 5;

const inks: Readonly<Record<Ink, string>> = {
  ink: colours.ink,
  faint: colours.faint,
  paper: colours.paper,
  wash: colours.wash,
  danger: colours.danger,
  warning: colours.warning,
  safe: colours.safe,
};

/**
 * Draws a scene with its left upper corner at a point; lines keep their weight, whatever the scale, but for small drawings.
 *
 * @param width Width on paper, in points; the height follows.
 */
export function drawScene(sheet: Sheet, scene: Scene, x: number, y: number, width: number): void {
  const { pdf } = sheet;
  const scale = width / scene.width;
  // Small drawings get finer lines, or their shapes would fill up.
  const thinning = Math.min(1, Math.max(0.5, scale * 1.4));
  for (const item of scene.items) {
    if (item.kind === 'text') {
      const size = Math.max(item.size * scale, leastType);
      const face =
        item.mono === true
          ? item.bold === true
            ? 'mono-bold'
            : 'mono'
          : item.bold === true
            ? 'bold'
            : 'plain';
      const colour = item.ink === 'faint' ? colours.quiet : inks[item.ink];
      const to = ({ start: 'left', middle: 'middle', end: 'right' } as const)[item.anchor];
      // A scene gives the line of writing; the sheet wants the top of the line.
      const top = y + item.y * scale - size * 0.928;
      sheet.write(item.text, x + item.x * scale, top, { face, size, leading: size * 1.164, colour }, { to });
      continue;
    }
    pdf.save().translate(x, y).scale(scale).path(item.d);
    const weight = (weights[item.weight] * thinning) / scale;
    if (item.dashed === true) pdf.dash(3 / scale, { space: 2 / scale });
    else pdf.undash();
    pdf.lineWidth(weight).lineJoin('round');
    if (item.fill !== null && item.ink !== null) pdf.fillAndStroke(inks[item.fill], inks[item.ink]);
    else if (item.fill !== null) pdf.fillColor(inks[item.fill]).fill();
    else if (item.ink !== null) pdf.strokeColor(inks[item.ink]).stroke();
    else pdf.undash();
    pdf.restore();
  }
}

/** Height of a scene drawn at a width, in points. */
export function sceneHeight(scene: Scene, width: number): number {
  return (scene.height * width) / scene.width;
}
