import type { Build } from '../../bridge/use-build.ts';
import { Heading } from '../../components/heading.tsx';
import { MarkDone } from '../../components/mark-done.tsx';
import { gateRows } from './gate-rows.ts';

/** What has to be proven cold before the first plug-in. */
export function GatePage({ build }: { readonly build: Build }) {
  const rows = gateRows(build.safety, build.facts);
  const hasUntested = rows.some(({ note }) => note !== null);
  const open = rows.filter(({ isMet }) => !isMet).length;
  return (
    <article className="step">
      <header className="step-head">
        <Heading of="gate">Before the first plug-in</Heading>
        <p className="large">
          {open === 0
            ? hasUntested
              ? 'Everything is proven but what is marked as not tested.'
              : 'Everything is proven.'
            : `${open} of ${rows.length} are still to be proven, cold and unplugged.`}
        </p>
      </header>
      <div className="step-main">
        <ul className="gate">
          {rows.map(({ id, title, isMet, note }) => (
            <li key={id}>
              <MarkDone how={isMet ? 'done' : 'open'} />
              <span>
                {title}
                {note === null ? null : <strong> · {note}</strong>}
              </span>
            </li>
          ))}
        </ul>
      </div>
    </article>
  );
}
