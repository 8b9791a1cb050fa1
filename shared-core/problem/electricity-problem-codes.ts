/** What only the computed circuit shows to be wrong with a kit. */
export const electricityProblemCodes = [
  'electricity/over-rating',
  'electricity/heater-overloaded',
  'electricity/heater-floating',
  'electricity/reading-dead',
  'electricity/no-drain',
  'electricity/stop-over-rating',
  'electricity/not-solved',
] as const;
