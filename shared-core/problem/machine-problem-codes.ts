/** Everything that can go wrong between the app and the machine it runs on. */
export const machineProblemCodes = [
  // Files and folders
  'file/not-found',
  'file/not-a-kit',
  'file/unreadable',
  'file/link',
  'file/too-big',
  'file/too-many',
  'file/not-text',
  'file/not-written',
  // The command line
  'command/unknown',
  'command/unknown-option',
  'command/missing',
  'command/too-much',
  'command/bad-value',
  // Builds
  'build/not-found',
  'build/read-only',
  'build/kit-changed',
  'build/kit-gone',
  'build/kit-copy',
  // Photos
  'photo/refused',
  'photo/too-many',
  // Calls
  'call/arguments',
  'call/not-understood',
  // Predictions
  'predict/unknown-condition',
  'predict/failed',
  'predict/replaced',
  // Instruments
  'instrument/not-local',
  'instrument/not-reached',
  'instrument/no-serial',
  'instrument/unplugged',
  'instrument/no-answer',
  'instrument/other-one',
  'instrument/not-understood',
  'instrument/other-function',
  'instrument/overload',
  'instrument/no-reading',
  'instrument/not-known',
] as const;
