import { Heading } from '../../components/heading.tsx';

/** In place of everything that says what to do: nothing is known, so there is one thing to do. */
export function UnknownPage({ isWriter }: { readonly isWriter: boolean }) {
  return (
    <article className="step">
      <header className="step-head">
        <Heading of="unknown">Treat the amplifier as live</Heading>
        <p className="large">Hands out. Pull the plug out of the wall and lay it where you can see it.</p>
        <p>
          {isWriter
            ? 'Kitwright does not answer. If this stays, start it again and open the address that it then shows: an old page finds no new start.'
            : 'Another window or browser writes this build. Go on there, or close it there first.'}
        </p>
      </header>
    </article>
  );
}
