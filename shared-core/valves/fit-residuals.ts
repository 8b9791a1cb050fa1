import { sectionFigures } from './section-law.ts';
import type { CharacteristicPoint, ValveSection, ValveType } from './valve-type.ts';

/** How far a model is from one published figure. */
export interface FitResidual {
  /** Counts from 0. */
  readonly point: number;
  readonly what: 'Ia' | 'Ig2' | 'gm' | 'mu' | 'ra';
  /** A, S, Ω or a pure number. */
  readonly expected: number;
  readonly computed: number;
  /** (computed − expected) / expected. */
  readonly error: number;
}

/** What a type's model misses at each of its own published points: of a fitted type, the residuals of the fit. */
export function fitResiduals(type: ValveType): readonly FitResidual[] {
  const [section] = type.sections;
  return section ? residualsOf(section, type.characteristics) : [];
}

/** The same for one section. The anode resistance of pentodes is left out: the law is known to be loose there. */
export function residualsOf(
  section: ValveSection,
  points: readonly CharacteristicPoint[],
): readonly FitResidual[] {
  return points.flatMap((point, index) => {
    const figures = sectionFigures(section, point);
    const compare = (
      what: FitResidual['what'],
      expected: number | undefined,
      computed: number,
    ): FitResidual[] =>
      expected === undefined
        ? []
        : [{ point: index, what, expected, computed, error: computed / expected - 1 }];
    const isPentode = section.device === 'pentode';
    return [
      ...compare('Ia', point.anodeAmps, figures.anodeAmps),
      ...compare('Ig2', point.screenAmps, figures.screenAmps),
      ...compare('gm', point.transconductance, figures.transconductance),
      ...compare('mu', isPentode ? undefined : point.mu, figures.mu),
      ...compare('ra', isPentode ? undefined : point.anodeOhms, figures.anodeOhms),
    ];
  });
}

/** Root of the mean square of the errors of one figure; 0 where it was not published. */
export function residualRms(residuals: readonly FitResidual[], what: FitResidual['what']): number {
  const errors = residuals.filter((each) => each.what === what).map(({ error }) => error);
  return errors.length === 0
    ? 0
    : Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
}
