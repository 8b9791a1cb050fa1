import type { Expectation } from '../../../shared-core/contract/calls.ts';
import { chassisScene } from '../../../shared-core/drawing/chassis-scene.ts';
import type { Scene } from '../../../shared-core/drawing/scene.ts';
import { countingWords, electrodeNames, socketScene } from '../../../shared-core/drawing/socket-scene.ts';
import type { Reading, Step, ValvePart } from '../../../shared-core/kit/kit.ts';
import {
  isRectifierAnode,
  placeVoltsIn,
  readState,
  warningVolts,
} from '../../../shared-core/drawing/pin-volts.ts';
import { findValveBase } from '../../../shared-core/valves/bases.ts';
import type { ValveBase } from '../../../shared-core/valves/bases.ts';
import type { ValveType } from '../../../shared-core/valves/valve-type.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';
import type { Build } from '../../bridge/use-build.ts';
import { placeOf } from '../../../shared-core/report/place-words.ts';
import { FigureView } from '../../components/figure-view.tsx';
import { KitPicture } from './step-figures.tsx';

interface ReadingFiguresProps {
  readonly build: Build;
  readonly step: Step;
  readonly reading: Reading | null;
  readonly expectation: Expectation | null;
}

/** Where the probe goes: the socket from below, or the chassis with the place ringed. */
export function ReadingFigures({ build, step, reading, expectation }: ReadingFiguresProps) {
  const drawn = reading === null ? [] : drawPlaces(build, reading, expectation);
  return (
    <div className="step-figures">
      {drawn.map(({ scene, caption, typeScale }) => (
        <FigureView key={caption} scene={scene} caption={caption} typeScale={typeScale} />
      ))}
      <KitPicture build={build} step={step} />
    </div>
  );
}

interface Drawn {
  readonly scene: Scene;
  readonly caption: string;
  readonly typeScale: number;
}

/** The socket from below for a pin, and always the spot on the chassis, with that of the black lead. */
function drawPlaces(build: Build, reading: Reading, expectation: Expectation | null): readonly Drawn[] {
  const place = placeOf(build.kit, reading.at);
  const [id = '', end = ''] = place.split('.');
  const part = build.kit.parts.find((each) => each.id === id);
  const pin = Number(end);
  const isPin = part?.kind === 'valve' && Number.isInteger(pin);
  const socket = isPin ? drawSocket(build, part, pin, expectation) : null;
  const ringed = [place, placeOf(build.kit, reading.against)].filter((each) => each !== 'chassis');
  const scene = chassisScene(
    build.kit,
    { parts: part === undefined ? [] : [part.id], leads: [], places: ringed },
    { parts: [], leads: [] },
  );
  const chassis = { scene, caption: 'Chassis from below', typeScale: 1.4 };
  return socket === null ? [chassis] : [socket, chassis];
}

function drawSocket(
  build: Build,
  part: ValvePart,
  pin: number,
  expectation: Expectation | null,
): Drawn | null {
  const base = findValveBase(part.socket.base);
  if (base === undefined) return null;
  const type = findValveType(build.build.fitted.valves[part.id] ?? part.type, build.kit.valves) ?? null;
  const scene = socketScene({
    part: part.id,
    base,
    type,
    gapFaces: part.socket.gapFaces,
    pin,
    dangerous:
      build.safety.energy.kind === 'dead' ? {} : dangerousPins(build, part.id, base, type, expectation),
  });
  const electrode = type === null ? '' : electrodeNames(type)[pin];
  return { scene, caption: countingWords(base, pin, electrode), typeScale: 1 };
}

/** Pins that carry more than the safe voltage while the plug is in; never the figure that is to be measured. */
function dangerousPins(
  { kit, build }: Build,
  part: string,
  { pins }: ValveBase,
  type: ValveType | null,
  expectation: Expectation | null,
): Readonly<Record<number, string>> {
  if (expectation === null) return {};
  const { netVolts, condition } = expectation.prediction;
  const { supply } = kit.conditions.find(({ id }) => id === condition) ?? {};
  if (supply === undefined || supply === 'unplugged') return {};
  const at = placeVoltsIn(kit, netVolts);
  const all = Array.from({ length: pins }, (_, index) => index + 1).flatMap((pin) => {
    const place = `${part}.${pin}`;
    const { volts, isHot, alternates } = at(place);
    if (isRectifierAnode(type, pin) && !alternates) return [[pin, ''] as const];
    if (!isHot || volts === null) return [];
    const state = readState(kit, build.readings, condition, place);
    return [[pin, state === 'to read' ? '' : warningVolts(volts, state !== 'read')] as const];
  });
  return Object.fromEntries(all);
}
