import type { ValveBase } from '../valves/bases.ts';
import { pinDegrees } from '../valves/bases.ts';
import type { ValveType } from '../valves/valve-type.ts';
import { circle, label, polygon } from './scene.ts';
import type { Scene, SceneItem } from './scene.ts';

/** What to show in a socket drawing. */
export interface SocketView {
  /** "V2" */
  readonly part: string;
  readonly base: ValveBase;
  /** The valve meant for the socket, for the electrodes' names; null leaves them out. */
  readonly type: ValveType | null;
  /** Direction of the gap or key seen from below, in degrees clockwise from the top. */
  readonly gapFaces: number;
  /** The pin to touch; null marks none. */
  readonly pin: number | null;
  /** Pins that carry more than the safe voltage: pin number to its volts in words; empty where they are not told. */
  readonly dangerous: Readonly<Record<number, string>>;
}

const size = { width: 360, height: 340, x: 180, y: 176, pins: 86, body: 112, labels: 142 };

/**
 * A valve socket seen from below, turned as it is mounted, its pins numbered clockwise.
 */
export function socketScene(view: SocketView): Scene {
  const { base, part, pin } = view;
  const heading = `${part}${view.type === null ? '' : ` · ${view.type.name}`} from below`;
  const items: SceneItem[] = [
    label(size.x, 18, heading, 17, { bold: true }),
    circle(size.x, size.y, size.body, 'paper', 'ink', 'line'),
    ...countingMark(view),
  ];
  const names = view.type === null ? {} : electrodeNames(view.type);
  for (let number = 1; number <= base.pins; number += 1) items.push(...drawPin(view, number, names[number]));
  const where = pin === null ? '' : `, pin ${pin}${names[pin] === undefined ? '' : `, ${names[pin]}`}`;
  return { width: size.width, height: size.height, title: `Socket ${heading}${where}`, items };
}

/** Electrode of each pin in words: "anode", "grid", "heater", with the section where there are two. */
export function electrodeNames(type: ValveType): Readonly<Record<number, string>> {
  const names: Record<number, string> = {};
  for (const section of type.sections) {
    for (const [electrode, pin] of Object.entries(section.pins)) {
      const held = names[pin];
      const name = section.name === '' ? electrode : `${electrode} ${section.name}`;
      names[pin] = held === undefined || held === name ? name : electrode;
    }
  }
  for (const element of type.heater.elements) for (const pin of element.pins) names[pin] ??= 'heater';
  for (const other of type.otherPins)
    names[other.pin] ??= other.role === 'internal' ? 'leave free' : other.role;
  return names;
}

/** Which pin, what is on it, and where to count from, in words. */
export function countingWords(base: ValveBase, pin: number, electrode = ''): string {
  const from = base.mark === 'thick pins' ? 'the thick pin 1' : `the ${base.mark}`;
  const name = electrode === '' ? '' : `, ${electrode}`;
  return `Pin ${pin}${name}: counted clockwise from ${from}, seen from below.`;
}

interface Centre {
  readonly x: number;
  readonly y: number;
}

function at(degrees: number, radius: number, { x, y }: Centre = size): readonly [number, number] {
  const turn = (degrees * Math.PI) / 180;
  return [x + radius * Math.sin(turn), y - radius * Math.cos(turn)];
}

/** The key or gap that counting starts from, in a socket of this drawing's size around a centre. */
export function countingMark(
  { base, gapFaces }: Pick<SocketView, 'base' | 'gapFaces'>,
  centre: Centre = size,
): SceneItem[] {
  if (base.mark === 'thick pins') return [];
  if (base.mark === 'key') {
    const [x, y] = at(gapFaces, 30, centre);
    return [circle(centre.x, centre.y, 24, 'wash', 'ink'), circle(x, y, 8, 'ink', null)];
  }
  const tip = at(gapFaces, 62, centre);
  const left = at(gapFaces - 10, 88, centre);
  const right = at(gapFaces + 10, 88, centre);
  return [
    polygon([tip, left, right], 'wash', 'faint'),
    label(...at(gapFaces, 46, centre), 'gap', 12, { ink: 'ink' }),
  ];
}

function drawPin(view: SocketView, number: number, name: string | undefined): SceneItem[] {
  const degrees = view.gapFaces + pinDegrees(view.base, number);
  const [x, y] = at(degrees, size.pins);
  const chosen = view.pin === number;
  const volts = view.dangerous[number];
  const radius = view.base.thickPins.includes(number) ? 17 : 14;
  const items: SceneItem[] = [
    circle(
      x,
      y,
      radius,
      chosen ? 'ink' : 'paper',
      volts === undefined ? 'ink' : 'danger',
      chosen ? 'bold' : 'line',
    ),
    label(x, y + 6, String(number), 16, { bold: true, ink: chosen ? 'paper' : 'ink' }),
  ];
  if (chosen) items.push(...ringAround(x, y));
  return [...items, ...pinLabels(degrees, name, volts, chosen)];
}

function ringAround(x: number, y: number): SceneItem[] {
  return [circle(x, y, 21, null, 'ink', 'bold')];
}

function pinLabels(
  degrees: number,
  name: string | undefined,
  volts: string | undefined,
  chosen: boolean,
): SceneItem[] {
  const [x, y] = at(degrees, size.labels - 18);
  const side = Math.sin((degrees * Math.PI) / 180);
  const anchor = side > 0.3 ? 'start' : side < -0.3 ? 'end' : 'middle';
  const up = Math.cos((degrees * Math.PI) / 180);
  // Above the socket two lines of text need room upwards, below it downwards.
  const low = up < -0.3 ? 12 : up > 0.6 && volts !== undefined && volts !== '' ? -9 : 4;
  const items: SceneItem[] = [];
  if (name !== undefined) items.push(label(x, y + low, name, 13, { anchor, bold: chosen }));
  if (volts !== undefined && volts !== '') {
    items.push(label(x, y + low + 15, volts, 13, { anchor, ink: 'danger', bold: true, mono: true }));
  }
  return items;
}
