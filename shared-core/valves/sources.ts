/** How well a figure is known, in the words that go beside it. */

/** Read in a public copy of the named source. */
export const read = (what: string): string => `${what}, read in a public copy`;

/** From memory; an independent model that others fitted to the named sheet reproduces it. */
export const reproduced = (what: string): string =>
  `${what}, from memory; reproduced by an independent model fitted to the sheet`;

/** From memory, certain. */
export const memory = (what: string): string => `${what}, from memory`;

/** From memory, to be verified before it becomes a check. */
export const unverified = (what: string): string => `${what}, from memory, to be verified`;

export const american = 'RCA RC-19 to RC-30 and HB-3; GE Essential Characteristics';
export const european = 'Philips Electron Tube Handbook 1953–69; Mullard Technical Handbook 1962–70';
export const soviet = 'Katsnel’son & Larionov, reference book of the USSR';
export const westernElectric = 'Western Electric 300A/B, January 1950';
export const gec = 'GEC/M-OV Audio Tubes';
export const moderns = 'Electro-Harmonix data sheet';
export const rcaCharts = 'RCA Receiving Tube Manual, resistance-coupled amplifier charts, from memory';
export const refit =
  'least-squares refit of the Koren law to the published characteristic and operating points';
export const pinLibrary = 'public pinout library, read';
export const perveances = 'G sets collected by S. Malcolm-Brown (2008–14) from the named data books, read';

export const malcolmBrown = (sheet: string): string =>
  `S. Malcolm-Brown, Koren parameters fitted to ${sheet}`;

/** For types whose maker gives no limits. */
export const usualSpread = {
  low: -0.3,
  high: 0.3,
  source:
    'individual new valves ±30 % about the catalogue mean: H. M. Knoll, radiomuseum.org forum, 2015, read',
} as const;

/** No data sheet of the older types states it. */
export const warmUpPractice = 'common practice, no source';
