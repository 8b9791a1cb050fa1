interface Told {
  readonly message: string;
  readonly hint?: string | undefined;
  readonly file?: string | undefined;
  readonly line?: number | undefined;
  readonly column?: number | undefined;
}

/** Problems with where they are and what to do next. */
export function ProblemList({ problems }: { readonly problems: readonly Told[] }) {
  if (problems.length === 0) return null;
  return (
    <ul className="problems">
      {problems.map((problem) => (
        <li key={`${problem.file ?? ''} ${problem.line ?? ''} ${problem.column ?? ''} ${problem.message}`}>
          {problem.file === undefined ? null : (
            <code>
              {[problem.file, problem.line, problem.column].filter((each) => each !== undefined).join(':')}
            </code>
          )}{' '}
          <strong>{problem.message}</strong> {problem.hint}
        </li>
      ))}
    </ul>
  );
}
