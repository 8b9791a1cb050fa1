import type { Expectation } from '../../../shared-core/contract/calls.ts';
import { chassisScene } from '../../../shared-core/drawing/chassis-scene.ts';
import type { Scene } from '../../../shared-core/drawing/scene.ts';
import { countingWords, socketScene } from '../../../shared-core/drawing/socket-scene.ts';
import type { Reading, Step, ValvePart } from '../../../shared-core/kit/kit.ts';
import { findValveBase } from '../../../shared-core/valves/bases.ts';
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
  const drawn = reading === null ? null : drawPlace(build, reading, expectation);
  return (
    <div className="step-figures">
      {drawn === null ? null : (
        <FigureView scene={drawn.scene} caption={drawn.caption} typeScale={drawn.typeScale} />
      )}
      <KitPicture build={build} step={step} />
    </div>
  );
}

interface Drawn {
  readonly scene: Scene;
  readonly caption: string;
  readonly typeScale: number;
}

function drawPlace(build: Build, reading: Reading, expectation: Expectation | null): Drawn | null {
  const place = placeOf(build.kit, reading.at);
  const [id = '', end = ''] = place.split('.');
  const part = build.kit.parts.find((each) => each.id === id);
  const pin = Number(end);
  if (part?.kind === 'valve' && Number.isInteger(pin)) return drawSocket(build, part, pin, expectation);
  const ringed = [place, placeOf(build.kit, reading.against)].filter((each) => each !== 'chassis');
  const scene = chassisScene(
    build.kit,
    { parts: part === undefined ? [] : [part.id], leads: [], places: ringed },
    { parts: [], leads: [] },
  );
  return { scene, caption: 'Chassis from below', typeScale: 1.4 };
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
    dangerous: dangerousPins(build, part.id, base.pins, expectation),
  });
  return { scene, caption: countingWords(base, pin), typeScale: 1 };
}

/** Pins that carry more than the safe voltage while the plug is in, with their volts (V). */
function dangerousPins(
  { kit, facts, safety }: Build,
  part: string,
  pins: number,
  expectation: Expectation | null,
): Readonly<Record<number, number>> {
  if (expectation === null || safety.energy.kind === 'dead') return {};
  const volts = expectation.prediction.netVolts;
  const all = Array.from({ length: pins }, (_, index) => index + 1).flatMap((pin) => {
    const size = Math.abs(volts[kit.netOf[`${part}.${pin}`] ?? ''] ?? 0);
    return size > facts.safeVolts ? [[pin, size] as const] : [];
  });
  return Object.fromEntries(all);
}
