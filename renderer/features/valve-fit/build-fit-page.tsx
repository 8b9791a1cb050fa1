import type { ValvePart } from '../../../shared-core/kit/kit.ts';
import type { Build } from '../../bridge/use-build.ts';
import { Heading } from '../../components/heading.tsx';
import { ValveFit } from './valve-fit.tsx';

/** Another valve for this build: with its own mains, meter and valves. */
export function BuildFitPage({ build }: { readonly build: Build }) {
  const { kit } = build;
  const { readings, build: id } = build.build;
  return (
    <article className="wide">
      <Heading of="fit">Another valve</Heading>
      <p>
        Type what is printed on the glass of the valve in hand. Its pins are held against the wiring, its
        heater against the winding, and every reading is computed anew. Nothing is recorded here: say which
        valve is in a socket at the step that fits it.
      </p>
      <ValveFit
        sockets={kit.parts.filter((part): part is ValvePart => part.kind === 'valve')}
        own={kit.valves}
        subject={{ kind: 'build', build: id }}
        isHidden={(reading) => (readings[reading]?.entries.length ?? 0) === 0}
      />
    </article>
  );
}
