import { readState, warningVolts } from '../../../shared-core/drawing/pin-volts.ts';
import { saferPlace } from '../../../shared-core/drawing/safer-place.ts';
import type { Reading } from '../../../shared-core/kit/kit.ts';
import type { ReadingPrediction } from '../../../shared-core/prediction/prediction.ts';
import { placeWords } from '../../../shared-core/report/place-words.ts';
import type { Build } from '../../bridge/use-build.ts';

interface ProbePlacesProps {
  readonly build: Build;
  readonly reading: Reading;
  readonly expected: ReadingPrediction | null;
}

/** What to know of the two places before a probe goes there: a safer one, and both leads off the chassis. */
export function ProbePlaces({ build, reading, expected }: ProbePlacesProps) {
  const { kit } = build;
  const isVolts = reading.measure === 'dc volts' || reading.measure === 'ac volts';
  const supply = kit.conditions.find(({ id }) => id === reading.in)?.supply ?? 'unplugged';
  if (!isVolts || supply === 'unplugged') return null;
  const safer = saferPlace(kit, reading.at);
  const both = bothLeads(build, reading, expected);
  return (
    <>
      {safer === null ? null : (
        <p>
          The same net, safer to touch than the pin: <strong>{placeWords(kit, safer)}</strong>. Read there,
          the pin’s own joint is not tested.
        </p>
      )}
      {both === null ? null : <p className="neighbours">{both}</p>}
    </>
  );
}

/** Said where the black lead is not on the chassis and one of them is above the safe voltage. */
function bothLeads(
  { kit, build, facts }: Build,
  reading: Reading,
  expected: ReadingPrediction | null,
): string | null {
  const netAt = (place: string): string => kit.netOf[kit.nets[place] ?? place] ?? place;
  const earths = ['gnd', 'chassis'].map(netAt);
  if (expected === null || earths.includes(netAt(reading.against))) return null;
  const { red, black } = expected.probes;
  if (Math.max(Math.abs(red), Math.abs(black)) <= facts.safeVolts) return null;
  const told = (place: string, volts: number): string =>
    warningVolts(volts, readState(kit, build.readings, reading.in, place) !== 'read');
  return `The black lead is not on the chassis here: red lead ${told(reading.at, red)}, black lead ${told(reading.against, black)}. Fit both hooks while the amplifier is dead, and touch neither until it is dead again.`;
}
