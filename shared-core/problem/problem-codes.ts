import { electricityProblemCodes } from './electricity-problem-codes.ts';
import { journalProblemCodes } from './journal-problem-codes.ts';
import { kitProblemCodes } from './kit-problem-codes.ts';
import { machineProblemCodes } from './machine-problem-codes.ts';

/**
 * Every problem code, in one closed list.
 *
 * Add the code here in the change that reports it; a code that nothing reports fails the tests.
 */
export const problemCodes = [
  ...machineProblemCodes,
  ...kitProblemCodes,
  ...journalProblemCodes,
  ...electricityProblemCodes,
] as const;

export type ProblemCode = (typeof problemCodes)[number];
