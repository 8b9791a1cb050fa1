import { pinDegrees } from '../valves/bases.ts';
import { circle, label } from './scene.ts';
import type { Scene, SceneItem } from './scene.ts';
import type { GlancePin, SocketGlance } from './socket-glance.ts';
import { countingMark } from './socket-scene.ts';
import { verdictShape } from './verdict-mark.ts';

const size = { width: 460, height: 430, x: 230, y: 226, pins: 86, body: 112, labels: 126 };

/** Height of a line of a pin's label, and half the width of a figure's digit at its type size. */
const lineHeight = 17;
const digitWidth = 9.2;

/**
 * A socket from below with what is known at each pin: measured in bold with the verdict's shape, expected in
 * brackets, the electrode above them.
 *
 * @param isLive Pins above the safe voltage are outlined in the danger colour: the amplifier may carry it now.
 */
export function glanceScene(glance: SocketGlance, isLive: boolean): Scene {
  const { part, base, type, isFitted } = glance;
  const heading = `${part.id}${type === null ? '' : ` · ${type.name}`}`;
  const below = isFitted ? 'from below' : 'from below, no valve in it';
  const items: SceneItem[] = [
    label(size.x, 20, heading, 19, { bold: true }),
    label(size.x, 40, below, 14),
    circle(size.x, size.y, size.body, 'paper', isFitted ? 'ink' : 'faint', 'line'),
    ...countingMark({ base, gapFaces: part.socket.gapFaces }, { x: size.x, y: size.y }),
    ...glance.pins.flatMap((pin) => drawPin(glance, pin, isLive)),
  ];
  const figures = glance.pins.flatMap((pin) => (pin.measured === null ? [] : [pinWords(pin)]));
  const told = figures.length === 0 ? 'nothing measured yet' : figures.join('; ');
  return { width: size.width, height: size.height, title: `Socket ${heading} ${below}: ${told}`, items };
}

/** "pin 3 reads 7.8 V, expected 7.6 V, as expected" */
function pinWords({ pin, measured, expected, verdict }: GlancePin): string {
  const parts = [`pin ${pin} reads ${measured}`, expected === null ? '' : `expected ${expected}`, verdict];
  return parts.filter(Boolean).join(', ');
}

function at(degrees: number, radius: number): readonly [number, number] {
  const turn = (degrees * Math.PI) / 180;
  return [size.x + radius * Math.sin(turn), size.y - radius * Math.cos(turn)];
}

function drawPin({ base, part }: SocketGlance, pin: GlancePin, isLive: boolean): SceneItem[] {
  const degrees = part.socket.gapFaces + pinDegrees(base, pin.pin);
  const [x, y] = at(degrees, size.pins);
  const isKnown = pin.measured !== null;
  const radius = base.thickPins.includes(pin.pin) ? 17 : 14;
  const outline = isLive && pin.isHot ? 'danger' : 'ink';
  return [
    circle(x, y, radius, isKnown ? 'wash' : 'paper', outline, isKnown ? 'bold' : 'line'),
    // Told by a second ring as well, where colours are the system's own.
    ...(outline === 'danger' ? [circle(x, y, radius + 5, null, 'danger', 'line')] : []),
    label(x, y + 6, String(pin.pin), 16, { bold: true }),
    ...drawFigures(degrees, pin),
  ];
}

/** The lines of a pin's label, stacked outwards. */
function drawFigures(degrees: number, pin: GlancePin): SceneItem[] {
  const turn = (degrees * Math.PI) / 180;
  const side = Math.sin(turn);
  const anchor = side > 0.3 ? 'start' : side < -0.3 ? 'end' : 'middle';
  const waits = pin.reading !== null && pin.measured === null;
  const lines = [
    pin.electrode === '' ? null : { text: pin.electrode, size: 13, bold: false, mono: false },
    pin.measured === null ? null : { text: pin.measured, size: 16, bold: true, mono: true },
    waits ? { text: 'to be read', size: 12, bold: false, mono: false } : null,
    pin.expected === null ? null : { text: `(${pin.expected})`, size: 13, bold: false, mono: true },
  ].filter((each) => each !== null);
  const [x, middle] = at(degrees, size.labels);
  const height = lines.length * lineHeight;
  // The middle of the stack lies on the ray at the sides; above the socket it ends there, below it begins there.
  const top = middle - height / 2 - (Math.cos(turn) * height) / 2;
  return lines.flatMap((line, index): SceneItem[] => {
    const y = top + lineHeight * (index + 0.75);
    const shape = line.text === pin.measured ? pin.verdict : null;
    const shift = shape === null ? 0 : anchor === 'start' ? 15 : anchor === 'end' ? -15 : 8;
    const text = label(x + shift, y, line.text, line.size, { anchor, bold: line.bold, mono: line.mono });
    if (shape === null) return [text];
    const half = (line.text.length * digitWidth) / 2;
    const mark = anchor === 'middle' ? x + shift - half - 9 : anchor === 'start' ? x + 6 : x - 6;
    return [text, ...verdictShape(shape, mark, y - 5, 6)];
  });
}
