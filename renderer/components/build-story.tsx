import type { BuildState } from '../../shared-core/journal/build-state.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import { clockWords, dateWords } from './time-words.ts';

interface Told {
  readonly at: string | null;
  readonly text: string;
}

/** Where the kit is at hand, its titles are used. */
export interface Titles {
  readonly conditions: readonly Titled[];
  readonly readings: readonly Titled[];
}

interface Titled {
  readonly id: string;
  readonly title: string;
}

function titleIn(list: readonly Titled[] | undefined, id: string): string {
  return list?.find((each) => each.id === id)?.title ?? id;
}

/** What happened in a build besides readings, in the order of time. */
export function storyOf(build: BuildState, kit: Titles | null = null): readonly Told[] {
  const condition = (id: string): string => titleIn(kit?.conditions, id);
  const readingTitle = (id: string): string => titleIn(kit?.readings, id);
  const told: Told[] = [
    ...build.plugIns.map(({ condition: id, at, outAt }) => ({
      at,
      text: `Plugged in: ${condition(id)}${outAt === null ? ', plug never confirmed out' : `, out at ${clockWords(outAt)}`}.`,
    })),
    ...build.drains.map(({ plugOutAt, looks, provenAt, why }) => ({
      at: looks[0]?.at ?? plugOutAt,
      text: `Drain (${why}): ${looks.length} looks, ${provenAt === null ? 'not proven' : `proven ${clockWords(provenAt)}`}.`,
    })),
    ...build.stops.map(({ reading, at, typed }) => ({
      at,
      text: `Stop: ${readingTitle(reading)} read ${typed}.`,
    })),
    ...build.wrongs.map(({ at, signs, what }) => ({
      at,
      text: `Something was wrong: ${signs.join(', ')}${what === '' ? '' : `. ${what}`}.`,
    })),
    ...build.repairs.map(({ at, what }) => ({ at, text: `Work inside: ${what}` })),
    ...build.fuses.map(({ at, part, what, speed, amps }) => ({
      at,
      text: `${part} ${what}: ${speed} ${formatQuantity(amps, 'A')}.`,
    })),
    ...build.notes.map(({ at, text }) => ({ at, text: `Note: ${text}` })),
  ];
  return told.toSorted((one, other) => (one.at ?? '').localeCompare(other.at ?? ''));
}

/** Facts of a build and its story: the same on the report page and for a record. */
export function BuildStory(props: { readonly build: BuildState; readonly kit?: Titles | null }) {
  const { build, kit = null } = props;
  const { bench, valves } = build;
  return (
    <>
      <dl className="facts">
        <dt>Begun</dt>
        <dd>{dateWords(build.startedAt)}</dd>
        <dt>From</dt>
        <dd>{build.declared ? `${build.startedFrom}: declared, not witnessed` : build.startedFrom}</dd>
        <dt>Kit</dt>
        <dd>
          {build.kit}, revision {build.revision},{' '}
          <span className="figures">{build.kitHash.slice(0, 16)}</span>
        </dd>
        <dt>Bench</dt>
        <dd>
          {bench === null
            ? 'not recorded'
            : `${formatQuantity(bench.mains.volts, 'V')} ${bench.mains.source}, ${bench.meter.label}, ${bench.meter.category}`}
        </dd>
        <dt>Insulation</dt>
        <dd>{build.insulationNotTested ? 'NOT tested' : 'see readings'}</dd>
        <dt>Valves</dt>
        <dd>
          {Object.entries(valves)
            .map(
              ([socket, { type, brand, stock }]) =>
                `${socket} ${[type, brand, stock].filter((each) => each !== '').join(', ')}`,
            )
            .join('; ') || 'none recorded'}
        </dd>
        <dt>Signed</dt>
        <dd>
          {build.signature === null ? 'not yet' : `${build.signature.name}, ${dateWords(build.signature.at)}`}
        </dd>
      </dl>
      <h2>What happened</h2>
      <ol className="story">
        {storyOf(build, kit).map(({ at, text }) => (
          <li key={`${at ?? ''} ${text}`}>
            <span className="figures quiet">{at === null ? '' : clockWords(at)}</span> {text}
          </li>
        ))}
      </ol>
    </>
  );
}
