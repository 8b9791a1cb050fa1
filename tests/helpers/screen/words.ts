/** The names by which the driver finds controls, in one place: a change of wording is a change here. */
export const words = {
  begin: /^Begin Heron/,
  beginBuild: 'Begin this build',
  benchDone: 'This is my bench',
  meterShows: 'The meter shows',
  input: 'Input, AC',
  output: 'Output, AC',
  stamped: /^Stamped on/,
  repair: /^What was wrong/,
  touched: 'Parts and places touched',
  signedBy: 'Signed by',
  battery: 'On the battery, DC',
  across: /^Across (\S+), DC/,
  plugOut: 'The plug is out and in sight',
  pull: 'Pull the plug',
  wrong: 'Something is wrong',
  hooks: 'I use hooks',
  fitted: / is in V\d$/,
  takenOut: /^The socket of V\d is empty$/,
  toStores: 'Measure the stores',
  theWay: /^(Go there|To switching on|To the bench|Record a repair)$/,
  stepNow: 'Step to do now',
  unknown: 'State unknown',
} as const;

/** Lengths of time that the screen counts down, as text before and after them. */
const countdowns = [
  /ready in ([\d hmins\u202f]+)/,
  /"?([\d hmins\u202f]+)"? to go/,
  /([\d hmins\u202f]+) until (?:it is worth measuring|the second look counts)/,
];

/** Seconds (s) that the screen counts down; null when it counts none. */
export function countdownIn(text: string): number | null {
  for (const pattern of countdowns) {
    const found = pattern.exec(text)?.[1];
    if (found !== undefined) return secondsOf(found);
  }
  return null;
}

function secondsOf(text: string): number {
  const part = (unit: string): number =>
    Number(new RegExp(`(\\d+)[\\s\\u202f]*${unit}\\b`).exec(text)?.[1] ?? 0);
  return part('h') * 3600 + part('min') * 60 + part('s');
}
