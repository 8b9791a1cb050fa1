import { Field } from '../../components/field.tsx';

/**
 * The places in a text, as far as the kit knows them; the others by themselves.
 *
 * A part stands for all its ends: hands at C6 were at both.
 */
export function readPlaces(
  text: string,
  netOf: Readonly<Record<string, string>>,
): { readonly places: readonly string[]; readonly unknown: readonly string[] } {
  const named = text.split(/[\s,;]+/).filter((each) => each !== '');
  const placesOf = (name: string): readonly string[] =>
    netOf[name] === undefined ? Object.keys(netOf).filter((each) => each.startsWith(`${name}.`)) : [name];
  return {
    places: [...new Set(named.flatMap(placesOf))],
    unknown: named.filter((each) => placesOf(each).length === 0),
  };
}

interface PlacesFieldProps {
  readonly label: string;
  readonly value: string;
  readonly unknown: readonly string[];
  readonly onChange: (text: string) => void;
}

/** Where hands were, typed; what the kit does not know is said beside it. */
export function PlacesField({ unknown, ...field }: PlacesFieldProps) {
  return (
    <Field
      {...field}
      size="long"
      error={
        unknown.length === 0
          ? null
          : `The kit has no place or part ${unknown.join(', ')}. Write them as TS1.3, V2.7 or C6.`
      }
      hint="As TS1.3, V2.7, C6. Empty: it cannot be said which, and everything is read again."
    />
  );
}
