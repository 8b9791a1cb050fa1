import { sectionDevice } from '../../valves/section-law.ts';
import {
  type CharacteristicPoint,
  type ModelRegion,
  type RatingName,
  ratings,
  type SectionDevice,
  type ValveRating,
} from '../../valves/valve-type.ts';
import { didYouMean } from '../did-you-mean.ts';
import type { Finding } from '../draft.ts';
import type { WrittenValve } from '../schema/valves.ts';
import type { OwnModel } from './own-model.ts';

type WrittenRating = Exclude<keyof WrittenValve['ratings'], 'basis'>;

const ratingNames: Readonly<Record<WrittenRating, RatingName>> = {
  anode: 'anodeVolts',
  dissipation: 'anodeWatts',
  'cathode-current': 'cathodeAmps',
  screen: 'screenVolts',
  'screen-dissipation': 'screenWatts',
  'heater-cathode': 'heaterCathodeVolts',
  'grid-leak-fixed-bias': 'gridOhmsFixedBias',
  'grid-leak-cathode-bias': 'gridOhmsCathodeBias',
  'inverse-peak': 'inversePeakVolts',
  'peak-current': 'peakAnodeAmps',
  'output-current': 'dcAmps',
};

/** Without these a build cannot be judged. */
const needed: Readonly<Record<WrittenValve['kind'], readonly WrittenRating[]>> = {
  triode: ['anode', 'dissipation'],
  pentode: ['anode', 'dissipation', 'screen', 'screen-dissipation'],
  rectifier: ['inverse-peak', 'peak-current', 'output-current'],
};

/** Ratings in SI, and those that are missing. */
export function ratingsOf(
  written: WrittenValve,
  path: string,
): { readonly ratings: readonly ValveRating[]; readonly missing: readonly Finding[] } {
  const { basis } = written.ratings;
  const missing = needed[written.kind]
    .filter((name) => written.ratings[name] === undefined)
    .map((name): Finding => {
      const message = `The rating "${name}" is missing: a ${written.kind} is judged by it`;
      const hint = `Add "${name}:" to its ratings.`;
      return { code: 'kit/missing-key', path: `${path}.ratings`, message, hint, atKey: true };
    });
  if (written.kind === 'rectifier' && !written.rectifier) {
    const message = 'A rectifier needs "rectifier": winding, least resistance, largest reservoir';
    const hint = 'Add "rectifier: { winding: 350 V, least-resistance: 100 ohm, max-reservoir: 50 uF }".';
    missing.push({ code: 'kit/missing-key', path, message, hint, atKey: true });
  }
  const values = Object.fromEntries(
    (Object.keys(ratingNames) as WrittenRating[]).map((name) => [ratingNames[name], written.ratings[name]]),
  );
  return { ratings: ratings(basis, written.source, values), missing };
}

/** The written points in SI. */
export function pointsOf({ points = [], source }: WrittenValve): readonly CharacteristicPoint[] {
  return points.map(({ va, vg2, vg, ia, ig2, gm, mu, ra }) => ({
    anodeVolts: va,
    ...(vg2 === undefined ? {} : { screenVolts: vg2 }),
    gridVolts: vg,
    anodeAmps: ia,
    ...(ig2 === undefined ? {} : { screenAmps: ig2 }),
    ...(gm === undefined ? {} : { transconductance: gm }),
    ...(mu === undefined ? {} : { mu }),
    ...(ra === undefined ? {} : { anodeOhms: ra }),
    source,
  }));
}

/** Parameters that the law does not have, or that are out of its range. */
export function parameterFindings(
  device: SectionDevice,
  parameters: Readonly<Record<string, number>>,
  path: string,
): readonly Finding[] {
  const known = sectionDevice({ device }).parameters;
  const wanted = known.filter(
    ({ name }) => mustGive[device].includes(name) && !Object.hasOwn(parameters, name),
  );
  const missing = wanted.map(({ name }): Finding => {
    const message = `The parameter "${name}" is missing`;
    return { code: 'kit/missing-key', path, message, hint: `Add "${name}:" here.`, atKey: true };
  });
  const wrong = Object.entries(parameters).flatMap(([name, value]): Finding[] => {
    const at = `${path}.${name}`;
    const parameter = known.find((each) => each.name === name);
    if (!parameter) {
      const names = known.map((each) => each.name);
      const message = `A ${device} has no parameter "${name}"`;
      return [{ code: 'kit/unknown-key', path: at, message, hint: didYouMean(name, names), atKey: true }];
    }
    const [low, high] = parameter.range;
    if (value >= low && value <= high) return [];
    const message = `"${name}" is ${value}; expected ${low} to ${high}`;
    return [{ code: 'kit/quantity', path: at, message, hint: `${parameter.meaning}, in Koren's equations.` }];
  });
  return [...missing, ...wrong];
}

const mustGive: Readonly<Record<SectionDevice, readonly string[]>> = {
  triode: ['mu', 'ex', 'kg1', 'kp', 'kvb'],
  pentode: ['mu', 'ex', 'kg1', 'kp', 'kvb', 'kg2'],
  'rectifier-valve': ['perveance'],
  'gas-stabiliser': [],
};

/** Of a fit: as far round its points as a law may be trusted (common practice, no source). */
const room = { volts: 0.2, amps: 0.5 };

/** Highest grid and lowest anode voltage at which any law counts as verified, in volts (V). */
const highestGridVolts = -0.3;
const lowestAnodeVolts = 50;

/** Where the model of a kit's own type counts as verified. */
export function regionsOf(written: WrittenValve, model: OwnModel): readonly ModelRegion[] {
  const points = pointsOf(written);
  const isRectifier = written.kind === 'rectifier';
  const sigmas = {
    relativeSigma: model.relativeSigma,
    ...(written.kind === 'pentode' ? { screenRelativeSigma: model.screenRelativeSigma } : {}),
    source: model.source,
  };
  const most = written.ratings['peak-current'] ?? written.ratings['cathode-current'] ?? 1;
  if (isRectifier) {
    return [{ what: 'up to the peak current', anodeVolts: [0, 300], anodeAmps: [0, most], ...sigmas }];
  }
  if (points.length === 0) {
    const volts = written.ratings.anode ?? 0;
    const grid = { gridVolts: [-volts, highestGridVolts] as const };
    const amps = [0, most] as const;
    return [
      {
        what: 'as the kit states',
        anodeVolts: [lowestAnodeVolts, volts],
        ...grid,
        anodeAmps: amps,
        ...sigmas,
      },
    ];
  }
  const span = (figures: readonly number[], by: number): readonly [number, number] => {
    const [low, high] = [Math.min(...figures), Math.max(...figures)];
    return [low - by * Math.abs(low), high + by * Math.abs(high)];
  };
  const grid = span(
    points.map(({ gridVolts }) => gridVolts),
    2 * room.volts,
  );
  const screens = points.flatMap(({ screenVolts }) => screenVolts ?? []);
  return [
    {
      what: 'round the points of its sheet',
      anodeVolts: span(
        points.map(({ anodeVolts }) => anodeVolts),
        room.volts,
      ),
      ...(screens.length > 0 ? { screenVolts: span(screens, room.volts) } : {}),
      gridVolts: [grid[0], Math.min(highestGridVolts, grid[1])],
      anodeAmps: span(
        points.map(({ anodeAmps }) => anodeAmps),
        room.amps,
      ),
      ...sigmas,
    },
  ];
}
