import { findValveBase } from '../../valves/bases.ts';
import { filament, plainHeater, tappedHeater } from '../../valves/build-type.ts';
import { residualRms } from '../../valves/fit-residuals.ts';
import { fitSection } from '../../valves/fit-section.ts';
import { usualSpread, warmUpPractice } from '../../valves/sources.ts';
import type { Heater, SectionDevice, ValveSection, ValveType } from '../../valves/valve-type.ts';
import { filamentMiddle } from '../../valves/valve-type.ts';
import type { Finding } from '../draft.ts';
import type { WrittenValve } from '../schema/valves.ts';
import type { OwnModel } from './own-model.ts';
import { checkPins } from './valve-pins-of.ts';
import { parameterFindings, pointsOf, ratingsOf, regionsOf } from './valve-figures.ts';

/** Least one-sigma error of a fitted model, relative: sheets are read to no better, and valves are not laws. */
const leastSigma = 0.05;
const leastScreenSigma = 0.08;

const deviceOf: Readonly<Record<WrittenValve['kind'], SectionDevice>> = {
  triode: 'triode',
  pentode: 'pentode',
  rectifier: 'rectifier-valve',
};

/**
 * A valve type of the catalogue's kind from what a kit writes; points are fitted here, once.
 *
 * @param findings Takes what is wrong.
 * @returns Null where something is wrong.
 */
export function toValve(
  name: string,
  written: WrittenValve,
  path: string,
  findings: Finding[],
): ValveType | null {
  const base = findValveBase(written.base);
  const device = deviceOf[written.kind];
  const isFilament = written.heater.filament === true && written.kind !== 'rectifier';
  const own: Finding[] = [];
  if (!base) {
    const hint = 'Bases are B9A, B7G, octal, loctal and UX4.';
    own.push({
      code: 'kit/base-mismatch',
      path: `${path}.base`,
      message: `There is no base "${written.base}"`,
      hint,
    });
  } else own.push(...checkPins(written, base.pins, isFilament, path));
  const model = modelOf(device, written, path, own);
  const { ratings, missing } = ratingsOf(written, path);
  own.push(...missing);
  findings.push(...own);
  if (own.length > 0 || !base || !model) return null;
  return {
    name,
    synonyms: [],
    title: written.title,
    base: base.name,
    sections: written.sections.map((pins, index): ValveSection => ({
      name: written.sections.length > 1 ? String(index + 1) : '',
      device,
      pins: pinsOf(pins, isFilament),
      parameters: model.parameters,
      parameterSource: model.source,
    })),
    otherPins: otherPinsOf(written, base.pins),
    pinSource: written.source,
    heater: heaterOf(written, isFilament),
    ratings,
    characteristics: pointsOf(written),
    operations: [],
    charts: [],
    spread: written.spread ? { ...written.spread, source: written.source } : usualSpread,
    modelRegions: regionsOf(written, model),
    rectifier:
      written.kind === 'rectifier' && written.rectifier
        ? {
            supplies: [
              {
                windingVolts: written.rectifier.winding,
                dcAmps: written.ratings['output-current'] ?? 0,
                anodeOhms: written.rectifier['least-resistance'],
              },
            ],
            maxReservoirFarads: written.rectifier['max-reservoir'],
            operations: [],
            source: written.source,
          }
        : null,
  };
}

function modelOf(
  device: SectionDevice,
  written: WrittenValve,
  path: string,
  findings: Finding[],
): OwnModel | null {
  const { parameters, points, source } = written;
  const error = written['model-error'];
  if ((parameters === undefined) === (points === undefined)) {
    const message = parameters
      ? 'It has both "parameters" and "points"'
      : 'It has neither "parameters" nor "points"';
    const hint = 'Give one of them: the parameters of the law, or points of the data sheet to fit.';
    findings.push({ code: 'kit/valve-model', path, message, hint, atKey: true });
    return null;
  }
  if (parameters) {
    findings.push(...parameterFindings(device, parameters, `${path}.parameters`));
    if (error !== undefined) {
      const sigmas = { relativeSigma: error, screenRelativeSigma: error };
      return { parameters: clean(parameters), ...sigmas, source: `${source}; error as the kit states` };
    }
    const hint = 'Add "model-error:", how far its currents are from the sheet, for instance 10 %.';
    const message = '"model-error" is missing: without it no band can be given';
    findings.push({ code: 'kit/missing-key', path: `${path}.model-error`, message, hint, atKey: true });
    return null;
  }
  const fit = fitSection(device, pointsOf(written));
  if (!fit.ok) {
    const code = fit.kind === 'too-few' ? 'kit/valve-few-points' : 'kit/valve-bad-point';
    const at = fit.point === null ? `${path}.points` : `${path}.points.${fit.point}`;
    findings.push({ code, path: at, message: fit.message, hint: fit.hint, atKey: fit.point === null });
    return null;
  }
  const rms = residualRms(fit.residuals, 'Ia');
  const said = `fitted to ${points?.length ?? 0} points, Ia within ${(100 * rms).toFixed(1)} % rms: ${source}`;
  return {
    parameters: fit.parameters,
    relativeSigma: Math.max(leastSigma, rms, error ?? 0),
    screenRelativeSigma: Math.max(leastScreenSigma, residualRms(fit.residuals, 'Ig2'), error ?? 0),
    source: said,
  };
}

/** Names of a YAML table come without a prototype; what leaves here is plain data. */
function clean(parameters: Readonly<Record<string, number>>): Readonly<Record<string, number>> {
  return Object.fromEntries(Object.entries(parameters));
}

function pinsOf(
  pins: WrittenValve['sections'][number],
  isFilament: boolean,
): Readonly<Record<string, number>> {
  const { anode, grid, screen, cathode } = pins;
  return {
    anode,
    ...(screen === undefined ? {} : { screen }),
    ...(grid === undefined ? {} : { grid }),
    cathode: isFilament ? filamentMiddle : (cathode ?? 0),
  };
}

function otherPinsOf(written: WrittenValve, count: number): ValveType['otherPins'] {
  const { pins, tap } = written.heater;
  const used = new Set<number | undefined>([
    ...pins,
    tap,
    ...written.sections.flatMap((each) => Object.values(each)),
  ]);
  return Array.from({ length: count }, (_, index) => index + 1)
    .filter((pin) => !used.has(pin))
    .map((pin) => ({ pin, role: written['other-pins'][String(pin)] ?? 'free', joinTo: null }));
}

function heaterOf(written: WrittenValve, isFilament: boolean): Heater {
  const { volts, current, pins, tap, filament: isDirect } = written.heater;
  const warmth = {
    source: written.source,
    warmUpSeconds: written.heater['warm-up'] ?? 20,
    warmUpSource: written.heater['warm-up'] === undefined ? warmUpPractice : written.source,
  };
  if (isFilament) return filament(pins, volts, current, warmth);
  if (tap !== undefined) return tappedHeater(pins, tap, volts / 2, current, warmth);
  const heater = plainHeater(pins, volts, current, warmth);
  return isDirect ? { ...heater, heating: 'direct' } : heater;
}
