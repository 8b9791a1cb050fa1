import { verdictMark } from '../../../shared-core/drawing/verdict-mark.ts';
import type { GlancePin, SocketGlance } from '../../../shared-core/drawing/socket-glance.ts';
import { SceneView } from '../../components/scene-view.tsx';

/** The same pins in figures: those that a reading speaks for, or something is expected of. */
export function GlanceTable({ sockets }: { readonly sockets: readonly SocketGlance[] }) {
  const groups = sockets.flatMap((socket) => {
    const pins = socket.pins.filter(({ reading, expected }) => reading !== null || expected !== null);
    return pins.length === 0 ? [] : [{ socket, pins }];
  });
  if (groups.length === 0) return <p>No pin of a socket is read in this condition.</p>;
  return (
    <table className="readings">
      <caption className="unseen">Every pin in figures</caption>
      <thead>
        <tr>
          <th scope="col">Pin</th>
          <th scope="col">Expected</th>
          <th scope="col">Measured</th>
          <th scope="col">Verdict</th>
        </tr>
      </thead>
      {groups.map(({ socket: { part, type }, pins }) => (
        <tbody key={part.id}>
          <tr className="group">
            <th scope="rowgroup" colSpan={4}>
              {part.id} · {type?.name ?? part.type}
            </th>
          </tr>
          {pins.map((pin) => (
            <Row key={pin.pin} pin={pin} />
          ))}
        </tbody>
      ))}
    </table>
  );
}

function Row({ pin }: { readonly pin: GlancePin }) {
  const { verdict } = pin;
  return (
    <tr>
      <th scope="row">
        {pin.pin}
        {pin.electrode === '' ? '' : ` · ${pin.electrode}`}
        {pin.elsewhere === null ? null : <span className="quiet remark">read at {pin.elsewhere}</span>}
      </th>
      <td className="figures">{pin.expected ?? '—'}</td>
      <td className="figures">{pin.measured ?? (pin.reading === null ? '—' : 'to be read')}</td>
      <td>
        {verdict === null ? null : (
          <span className={`verdict verdict-${verdict.replaceAll(' ', '-')} glance-verdict`}>
            <SceneView scene={verdictMark(verdict)} decorative />
            <span>{verdict}</span>
          </span>
        )}
      </td>
    </tr>
  );
}
