import { kitProblemCodes } from './kit-problem-codes.ts';

/**
 * Every problem code, in one closed list.
 *
 * Add the code here in the change that reports it; a code that nothing reports fails the tests.
 */
export const problemCodes = ['file/not-found', ...kitProblemCodes] as const;

export type ProblemCode = (typeof problemCodes)[number];
