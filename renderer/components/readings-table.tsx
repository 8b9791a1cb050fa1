import { bandScene } from '../../shared-core/drawing/band-scene.ts';
import { byGroup } from './reading-rows.ts';
import type { ReadingRow } from './reading-rows.ts';
import { SceneView } from './scene-view.tsx';
import { VerdictMark } from './verdict-mark.tsx';

/** Readings as rows, each with its band as a small drawing. */
export function ReadingsTable({ rows }: { readonly rows: readonly ReadingRow[] }) {
  const hasDayOne = rows.some(({ dayOne }) => dayOne !== null);
  return (
    <table className="readings">
      <caption className="unseen">Readings</caption>
      <thead>
        <tr>
          <th scope="col">Reading</th>
          {hasDayOne ? <th scope="col">Day one</th> : null}
          <th scope="col">Read</th>
          <th scope="col">Band</th>
          <th scope="col">Verdict</th>
        </tr>
      </thead>
      {byGroup(rows).map(([group, members]) => (
        <tbody key={group}>
          <tr className="group">
            <th scope="rowgroup" colSpan={hasDayOne ? 5 : 4}>
              {group}
            </th>
          </tr>
          {members.map((each) => (
            <Row key={each.id} row={each} hasDayOne={hasDayOne} />
          ))}
        </tbody>
      ))}
    </table>
  );
}

function Row({ row, hasDayOne }: { readonly row: ReadingRow; readonly hasDayOne: boolean }) {
  const scene = row.band === null ? null : bandScene(row.band, row.value);
  return (
    <tr>
      <th scope="row">
        {row.title}
        {row.remarks.map((remark) => (
          <span key={remark} className="quiet remark">
            {remark}
          </span>
        ))}
      </th>
      {hasDayOne ? <td className="figures">{row.dayOne ?? '—'}</td> : null}
      <td className="figures">{row.shown ?? '—'}</td>
      <td className="band-cell">
        {scene === null ? null : <SceneView scene={scene} typeScale={1.7} decorative />}
      </td>
      <td>{row.verdict === null ? null : <VerdictMark verdict={row.verdict} />}</td>
    </tr>
  );
}
