import { useState } from 'react';
import type { BuildSummary, Hello, ShelfKit } from '../../../shared-core/contract/calls.ts';
import { ActButton } from '../../components/act-button.tsx';
import { AlertSymbol } from '../../components/caution-panel.tsx';
import { Field } from '../../components/field.tsx';
import { Heading } from '../../components/heading.tsx';
import { dateWords } from '../../components/time-words.ts';

interface ShelfScreenProps {
  readonly hello: Hello;
  readonly onKit: (path: string) => void;
  readonly onBuild: (build: string) => void;
  readonly onRecord: (text: string) => void;
}

/** The first screen: kits on the shelf, builds under way, and a way to anything else. */
export function ShelfScreen({ hello, onKit, onBuild, onRecord }: ShelfScreenProps) {
  const [path, setPath] = useState('');
  return (
    <main className="page shelf">
      <Heading of="shelf">Kitwright</Heading>
      <p className="large">
        The companion at the bench: step by step from loose parts to a signed report, nothing live until it is
        safe.
      </p>
      {hello.builds.length === 0 ? null : (
        <section aria-labelledby="builds">
          <h2 id="builds">Builds under way</h2>
          <ul className="rows">
            {hello.builds.map((build) => (
              <BuildRow key={build.build} build={build} onBuild={onBuild} />
            ))}
          </ul>
        </section>
      )}
      <section aria-labelledby="kits">
        <h2 id="kits">Kits on the shelf</h2>
        <ul className="rows">
          {hello.kits.map((kit) => (
            <KitRow key={kit.path} kit={kit} onKit={onKit} />
          ))}
        </ul>
      </section>
      <section aria-labelledby="other" className="other">
        <h2 id="other">Something else</h2>
        <form
          className="entry"
          onSubmit={(event) => {
            event.preventDefault();
            if (path.trim() !== '') onKit(path.trim());
          }}
        >
          <Field
            label="A kit’s folder"
            size="long"
            value={path}
            onChange={setPath}
            hint="The folder that holds kit.yaml."
          />
          <ActButton blocked={path.trim() === ''} onAct={() => onKit(path.trim())}>
            Open the kit
          </ActButton>
          <input type="submit" hidden />
        </form>
        <label className="file">
          <span>A record, to look at</span>
          <input
            type="file"
            accept=".json,application/json"
            onChange={(event) => {
              const file = event.target.files?.[0];
              if (file !== undefined) void file.text().then(onRecord);
            }}
          />
        </label>
      </section>
      <p className="quiet">
        Kitwright {hello.version}. Local codes and licensed practice come before anything this app says.
      </p>
    </main>
  );
}

function KitRow({ kit, onKit }: { readonly kit: ShelfKit; readonly onKit: (path: string) => void }) {
  return (
    <li className="row">
      <div>
        <h3>
          {kit.name}{' '}
          <span className="quiet">
            revision {kit.revision}, {kit.maker}
          </span>
        </h3>
        <p>{kit.about}</p>
        {kit.problem == null ? null : <p className="field-error">{kit.problem}</p>}
      </div>
      <ActButton look="plain" onAct={() => onKit(kit.path)}>
        {kit.problem == null ? 'Begin' : 'See what is wrong with'} {kit.name}
      </ActButton>
    </li>
  );
}

const energyWords = {
  dead: 'dead',
  live: 'live',
  draining: 'draining: treat as live',
  unknown: 'state unknown: treat as live',
} as const;

function BuildRow(props: { readonly build: BuildSummary; readonly onBuild: (build: string) => void }) {
  const { build, onBuild } = props;
  const { kitName, revision, energy, lastAt, signed, problem } = build;
  return (
    <li className="row">
      <div>
        <h3>
          {kitName}{' '}
          <span className="quiet">
            revision {revision}, last entry {dateWords(lastAt)}
          </span>
        </h3>
        <p className={`energy energy-${energy}`}>
          {energy === 'dead' ? <span className="bar-dot" aria-hidden="true" /> : <AlertSymbol />}
          {energyWords[energy]}
          {signed ? ' · signed' : ''}
        </p>
        {problem === null ? null : <p className="field-error">{problem}</p>}
      </div>
      {problem === null ? (
        <ActButton look="plain" onAct={() => onBuild(build.build)}>
          Go on with {kitName}
        </ActButton>
      ) : null}
    </li>
  );
}
