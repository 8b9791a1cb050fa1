/** What can be wrong with a journal or a record. */
export const journalProblemCodes = [
  'journal/no-header',
  'journal/other-format',
  'journal/broken',
  'journal/cut-off',
  'journal/practice',
  'record/too-large',
  'record/too-deep',
  'record/not-json',
  'record/not-a-record',
  'record/other-format',
  'record/edited',
  'record/practice',
] as const;
