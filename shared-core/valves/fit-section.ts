import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { type FitProblem, pointProblem } from './fit-points.ts';
import { type FitResidual, residualsOf } from './fit-residuals.ts';
import { sectionDevice, sectionFigures } from './section-law.ts';
import type { CharacteristicPoint, SectionDevice, ValveSection } from './valve-type.ts';

export type SectionFit =
  | {
      readonly ok: true;
      readonly parameters: Readonly<Record<string, number>>;
      readonly residuals: readonly FitResidual[];
    }
  | ({ readonly ok: false } & FitProblem);

/** A parameter that is fitted: what it usually is, and how far it strays from that in logarithms. */
interface FreeParameter {
  readonly name: string;
  readonly usual: number;
  /** Weak where points say anything at all; what two points cannot tell stays usual. */
  readonly sigma: number;
}

/** Amplification factors to begin with; the best end is kept. */
const startMus = [4, 9, 20, 40, 90];

/** A published figure is worth this much, relative: currents are read better from a sheet than slopes. */
const currentSigma = 0.02;
const slopeSigma = 0.05;

/** An anode current that misses by more says that the points are not of one valve. */
const worstMiss = 0.25;

const iterations = 60;

/**
 * Fits a section's law to published points, by least squares of the relative errors (Levenberg–Marquardt).
 *
 * Every parameter is also held, weakly, to what it is in the catalogue's sets, so that a few points near each
 * other do not bend what they say nothing about.
 *
 * @param device The kind of section.
 * @param points At the electrodes to the cathode: V, A, S, Ω.
 */
export function fitSection(device: SectionDevice, points: readonly CharacteristicPoint[]): SectionFit {
  const problem = pointProblem(device, points);
  if (problem) return { ok: false, ...problem };
  const starts = device === 'rectifier-valve' ? [1] : startMus;
  const fits = starts.flatMap((mu) => fitFrom(device, points, mu) ?? []);
  const [best] = fits.sort((one, other) => one.cost - other.cost);
  if (!best) return { ok: false, ...noModel };
  const residuals = residualsOf(sectionWith(device, best.parameters), points);
  const worst = residuals
    .filter(({ what }) => what === 'Ia')
    .reduce<FitResidual | null>(
      (most, each) => (most && Math.abs(most.error) >= Math.abs(each.error) ? most : each),
      null,
    );
  if (worst && Math.abs(worst.error) > worstMiss) {
    const message = `Point ${worst.point + 1} is missed by ${Math.round(100 * Math.abs(worst.error))} %: these points are not of one valve`;
    return { ok: false, kind: 'bad-point', point: worst.point, message, hint: checkSheet };
  }
  return { ok: true, parameters: best.parameters, residuals };
}

const checkSheet = 'Compare it with the data sheet: voltages to the cathode, current of one section.';

const noModel: FitProblem = {
  kind: 'bad-point',
  point: null,
  message: 'No model follows these points',
  hint: checkSheet,
};

/** What the catalogue's own sets are like. */
function freeParameters(device: SectionDevice, mu: number): readonly FreeParameter[] {
  if (device === 'rectifier-valve') return [{ name: 'perveance', usual: 1e-3, sigma: 10 }];
  const common = [
    { name: 'mu', usual: mu, sigma: 3 },
    { name: 'ex', usual: 1.38, sigma: 0.1 },
    { name: 'kg1', usual: 1000, sigma: 10 },
  ];
  if (device === 'triode') {
    const kp = { name: 'kp', usual: 6.5 * mu, sigma: 0.7 };
    return [...common, kp, { name: 'kvb', usual: 300, sigma: 1.2 }];
  }
  return [
    ...common,
    { name: 'kp', usual: 100, sigma: 0.8 },
    { name: 'kvb', usual: 20, sigma: 0.6 },
    { name: 'kg2', usual: 5000, sigma: 10 },
  ];
}

interface Fitted {
  readonly parameters: Readonly<Record<string, number>>;
  readonly cost: number;
}

function fitFrom(device: SectionDevice, points: readonly CharacteristicPoint[], mu: number): Fitted | null {
  const free = freeParameters(device, mu);
  const named = (logs: readonly number[]): Record<string, number> => ({
    ...(device === 'triode' ? { vct: 0 } : {}),
    ...Object.fromEntries(free.map(({ name }, index) => [name, Math.exp(logs[index] ?? 0)])),
  });
  const initial = scaledStart(device, points, free);
  if (!initial) return null;
  const ranges = free.map(({ name }) => {
    const range = sectionDevice({ device }).parameters.find((each) => each.name === name)?.range;
    return [Math.log(range?.[0] ?? 1e-9), Math.log(range?.[1] ?? 1e9)] as const;
  });
  const rowsAt = (logs: readonly number[]): readonly number[] => {
    const figures = residualsOf(sectionWith(device, named(logs)), points).map(
      ({ what, error }) => error / (what === 'Ia' || what === 'Ig2' ? currentSigma : slopeSigma),
    );
    return [...figures, ...free.map(({ usual, sigma }, at) => ((logs[at] ?? 0) - Math.log(usual)) / sigma)];
  };
  const count = rowsAt(initial).length;
  const x = Array.from({ length: count }, (_, row) => row);
  const y = x.map(() => 0);
  try {
    const { parameterValues } = levenbergMarquardt(
      { x, y },
      (logs) => {
        const rows = rowsAt(logs);
        return (row) => rows[row] ?? 0;
      },
      {
        ...{ initialValues: initial, centralDifference: true, gradientDifference: 1e-5 },
        ...{ minValues: ranges.map(([low]) => low), maxValues: ranges.map(([, high]) => high) },
        ...{ maxIterations: iterations, errorTolerance: 1e-9, damping: 0.1 },
      },
    );
    const cost = rowsAt(parameterValues).reduce((sum, each) => sum + each * each, 0);
    return Number.isFinite(cost) ? { parameters: named(parameterValues), cost } : null;
  } catch {
    // The library throws on a singular step: this start leads nowhere, another may.
    return null;
  }
}

/** The usual parameters with the currents scaled to the first point, as logarithms. */
function scaledStart(
  device: SectionDevice,
  points: readonly CharacteristicPoint[],
  free: readonly FreeParameter[],
): readonly number[] | null {
  const usual = Object.fromEntries(free.map(({ name, usual: value }) => [name, value]));
  const [first] = points;
  if (!first) return null;
  const { anodeAmps, screenAmps } = sectionFigures(sectionWith(device, usual), first);
  if (!(anodeAmps > 0)) return null;
  const screen = points.find((point) => point.screenAmps !== undefined)?.screenAmps;
  const scales: Readonly<Record<string, number>> = {
    kg1: anodeAmps / first.anodeAmps,
    perveance: first.anodeAmps / anodeAmps,
    ...(screen === undefined || !(screenAmps > 0) ? {} : { kg2: screenAmps / screen }),
  };
  return free.map(({ name, usual: value }) => Math.log(value * (scales[name] ?? 1)));
}

function sectionWith(device: SectionDevice, parameters: Readonly<Record<string, number>>): ValveSection {
  return { name: '', device, pins: {}, parameters, parameterSource: 'fitted' };
}
