import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Part, Place } from '../kit/kit.ts';
import { findValveBase } from '../valves/bases.ts';
import { footprint, spotOf } from './chassis-places.ts';
import type { Spot } from './chassis-places.ts';
import { circle, label, length, line, rectangle } from './scene.ts';
import type { Scene, SceneItem } from './scene.ts';

/** What a step touches: shown in ink while the rest is faint. */
export interface ChassisHighlight {
  readonly parts: readonly string[];
  readonly leads: readonly string[];
  /** Places to ring: where the probe goes. */
  readonly places: readonly Place[];
}

/** Drawing units for each millimetre. */
const scale = 3;
const margin = 24;

/**
 * The chassis from below, drawn from the kit's layout.
 *
 * @param kit The chosen kit.
 * @param highlight What the step touches; with nothing in it, everything is in ink.
 * @param until Parts and leads already fitted; null shows all that the layout can place.
 */
export function chassisScene(
  kit: ChosenKit,
  highlight: ChassisHighlight,
  until: { readonly parts: readonly string[]; readonly leads: readonly string[] } | null = null,
): Scene {
  const all = highlight.parts.length + highlight.leads.length + highlight.places.length === 0;
  const items: SceneItem[] = [outline(kit)];
  const draw = { kit, highlight, all, until };
  const chosen = (lead: { readonly id: string }): boolean => highlight.leads.includes(lead.id);
  for (const lead of kit.leads) if (!chosen(lead)) items.push(...drawLead(draw, lead.id, lead.from, lead.to));
  for (const part of kit.parts) items.push(...drawMounted(draw, part));
  for (const lead of kit.leads) if (chosen(lead)) items.push(...drawLead(draw, lead.id, lead.from, lead.to));
  for (const part of kit.parts) items.push(...drawSoldered(draw, part));
  for (const place of highlight.places) items.push(...ring(kit, place));
  return {
    width: kit.chassis.width * scale + margin * 2,
    height: kit.chassis.depth * scale + margin * 2,
    title: `Chassis from below${all ? '' : `: ${[...highlight.parts, ...highlight.leads, ...highlight.places].join(', ')}`}`,
    items,
  };
}

interface Draw {
  readonly kit: ChosenKit;
  readonly highlight: ChassisHighlight;
  readonly all: boolean;
  readonly until: { readonly parts: readonly string[]; readonly leads: readonly string[] } | null;
}

function mm(value: number): number {
  return margin + value * scale;
}

function outline(kit: ChosenKit): SceneItem {
  return rectangle(mm(0), mm(0), kit.chassis.width * scale, kit.chassis.depth * scale, null, 'ink', 'bold');
}

/** Parts with a place of their own in the layout. */
function drawMounted({ kit, highlight, all }: Draw, part: Part): SceneItem[] {
  const at = kit.layout[part.id];
  if (at === undefined) return [];
  const [x, y, turn] = at;
  const chosen = all || highlight.parts.includes(part.id);
  const ink = chosen ? 'ink' : 'faint';
  const weight = chosen && !all ? 'bold' : 'line';
  const sideways = Math.round(turn / 90) % 2 !== 0;
  const [a, b] = footprint(part);
  const [width, depth] = sideways ? [b, a] : [a, b];
  const round = part.kind === 'valve' || part.kind === 'potentiometer' || part.kind === 'hardware';
  const body = round
    ? circle(mm(x), mm(y), (a / 2) * scale, 'paper', ink, weight)
    : rectangle(mm(x - width / 2), mm(y - depth / 2), width * scale, depth * scale, 'paper', ink, weight);
  return [body, ...terminals(kit, part, ink), nameOf(part, x, y, depth, ink, chosen && !all)];
}

function nameOf(
  part: Part,
  x: number,
  y: number,
  depth: number,
  ink: 'ink' | 'faint',
  bold: boolean,
): SceneItem {
  const inside = part.kind !== 'tag-strip' && part.kind !== 'hardware' && part.kind !== 'fuse';
  const down = inside ? 5 : (depth / 2) * scale + 15;
  return label(mm(x), mm(y) + down, part.id, inside ? 15 : 13, { ink, bold });
}

function terminals(kit: ChosenKit, part: Part, ink: 'ink' | 'faint'): SceneItem[] {
  return terminalNames(part).flatMap((name) => {
    const spot = spotOf(kit, `${part.id}.${name}`);
    if (spot === null) return [];
    const dot = circle(mm(spot.x), mm(spot.y), 2.6, 'paper', ink, 'hair');
    return part.kind === 'tag-strip' ? [dot, tagNumber(kit, part, name, spot, ink)] : [dot];
  });
}

/** Numbers stand beside the tags, on the side that faces away from the strip's name. */
function tagNumber(kit: ChosenKit, part: Part, name: string, spot: Spot, ink: 'ink' | 'faint'): SceneItem {
  const sideways = Math.round((kit.layout[part.id]?.[2] ?? 0) / 90) % 2 !== 0;
  const [dx, dy] = sideways ? [-16, 4] : [0, -14];
  return label(mm(spot.x) + dx, mm(spot.y) + dy, name, 10, { ink });
}

function terminalNames(part: Part): readonly string[] {
  const count = (last: number): string[] => Array.from({ length: last }, (_, index) => String(index + 1));
  switch (part.kind) {
    case 'valve':
      return count(findValveBase(part.socket.base)?.pins ?? 0);
    case 'tag-strip':
      return count(part.tags);
    case 'potentiometer':
      return ['ccw', 'wiper', 'cw'];
    case 'mains-inlet':
      return ['line', 'earth', 'neutral'];
    case 'fuse':
      return ['a', 'b'];
    case 'jack':
      return part.terminals;
    default:
      return [];
  }
}

function drawLead({ kit, highlight, until }: Draw, id: string, from: Place, to: Place): SceneItem[] {
  const chosen = highlight.leads.includes(id);
  if (!chosen && until !== null && !until.leads.includes(id)) return [];
  const a = spotOf(kit, from);
  const b = spotOf(kit, to);
  if (a === null || b === null) return [];
  const middle = (a.x + b.x) / 2;
  const d =
    `M${length(mm(a.x))} ${length(mm(a.y))}` +
    `C${length(mm(middle))} ${length(mm(a.y))} ${length(mm(middle))} ${length(mm(b.y))} ${length(mm(b.x))} ${length(mm(b.y))}`;
  return [{ kind: 'path', d, ink: chosen ? 'ink' : 'faint', fill: null, weight: chosen ? 'bold' : 'hair' }];
}

/** Parts hung between two places by their own wires. */
function drawSoldered(draw: Draw, part: Part): SceneItem[] {
  const { kit, highlight, until } = draw;
  if (!('between' in part)) return [];
  const chosen = highlight.parts.includes(part.id);
  if (!chosen && until !== null && !until.parts.includes(part.id)) return [];
  const a = spotOf(kit, part.between[0]);
  const b = spotOf(kit, part.between[1]);
  if (a === null || b === null) return [];
  const [x1, y1, x2, y2] = [mm(a.x), mm(a.y), mm(b.x), mm(b.y)];
  if (!chosen) return [line(x1, y1, x2, y2, 'faint', 'hair')];
  const [cx, cy] = bodyOf(draw, part, [x1, y1], [x2, y2]);
  const d = `M${length(x1)} ${length(y1)}L${length(cx)} ${length(cy)}L${length(x2)} ${length(y2)}`;
  const items: SceneItem[] = [
    { kind: 'path', d, ink: 'ink', fill: null, weight: 'bold' },
    circle(cx, cy, 13, 'paper', 'ink', 'line'),
    label(cx, cy + 4, part.id, 11, { bold: true }),
    circle(x1, y1, 4, 'ink', null),
    circle(x2, y2, 4, 'ink', null),
  ];
  if (part.kind === 'capacitor' && part.type === 'electrolytic') {
    items.push(label(x1 + (cx - x1) * 0.3 + 9, y1 + (cy - y1) * 0.3, '+', 18, { bold: true }));
  }
  return items;
}

/** Middle of a part's body: parts side by side between the same two places are spread out. */
function bodyOf(
  { kit, highlight }: Draw,
  part: Part,
  [x1, y1]: readonly [number, number],
  [x2, y2]: readonly [number, number],
): readonly [number, number] {
  const key = (other: Part): string => ('between' in other ? [...other.between].sort().join(' ') : '');
  const beside = kit.parts.filter((other) => highlight.parts.includes(other.id) && key(other) === key(part));
  const index = beside.findIndex((other) => other.id === part.id);
  const aside = (index - (beside.length - 1) / 2) * 34;
  const reach = Math.hypot(x2 - x1, y2 - y1) || 1;
  return [(x1 + x2) / 2 - ((y2 - y1) / reach) * aside, (y1 + y2) / 2 + ((x2 - x1) / reach) * aside];
}

function ring(kit: ChosenKit, place: Place): SceneItem[] {
  const spot = spotOf(kit, place);
  if (spot === null) return [];
  return [
    circle(mm(spot.x), mm(spot.y), 10, null, 'ink', 'bold'),
    label(mm(spot.x) + 14, mm(spot.y) - 12, place, 15, { anchor: 'start', bold: true }),
  ];
}
