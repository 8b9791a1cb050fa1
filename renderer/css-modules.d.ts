/**
 * Style sheets as the bundler hands them over.
 *
 * A `*.module.css` import is a map from the class name in the file to the one in the page; any other
 * style sheet is imported for its effect only.
 */
declare module '*.module.css' {
  const classNames: Readonly<Record<string, string>>;
  export default classNames;
}

declare module '*.css';
