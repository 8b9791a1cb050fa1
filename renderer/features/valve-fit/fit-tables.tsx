import type {
  MovedReading,
  PinRow,
  RatingChange,
  SectionPoint,
} from '../../../shared-core/faults/fit-report.ts';
import { movedWords, shown } from './fit-figures.ts';

const pinWords: Readonly<Record<PinRow['fit'], string>> = {
  same: 'the same',
  harmless: 'differs, no matter',
  differs: 'differs',
};

/** Pin by pin: what the socket is wired for, and what the type in hand has there. */
export function PinTable({ pins, type }: { readonly pins: readonly PinRow[]; readonly type: string }) {
  return (
    <table className="fit-table">
      <caption>Pins, counted clockwise from below</caption>
      <thead>
        <tr>
          <th scope="col">Pin</th>
          <th scope="col">Wired for</th>
          <th scope="col">{type} has</th>
          <th scope="col">Brings, socket empty</th>
          <th scope="col">So</th>
        </tr>
      </thead>
      <tbody>
        {pins.map(({ pin, wiredFor, has, volts, isAlternating, fit }) => (
          <tr key={pin} className={fit === 'differs' ? 'fit-differs' : undefined}>
            <th scope="row">{pin}</th>
            <td>{wiredFor}</td>
            <td>{has}</td>
            <td className="figures">{volts === null ? '—' : brings(volts, isAlternating)}</td>
            <td>{pinWords[fit]}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function brings(volts: number, isAlternating: boolean): string {
  return Math.abs(volts) < 0.05 ? shown(0, 'V') : `${shown(volts, 'V')}${isAlternating ? ' AC' : ''}`;
}

/** Where each section works, before and after. */
export function PointTable({ points }: { readonly points: readonly SectionPoint[] }) {
  return (
    <table className="fit-table">
      <caption>Operating point, nominal</caption>
      <thead>
        <tr>
          <th scope="col">Section</th>
          <th scope="col">Figure</th>
          <th scope="col">With the kit’s type</th>
          <th scope="col">With this one</th>
        </tr>
      </thead>
      <tbody>
        {points.map(({ section, what, unit, before, after }) => (
          <tr key={`${section} ${what}`}>
            <th scope="row">{section}</th>
            <td>{what}</td>
            <td className="figures">{shown(before, unit)}</td>
            <td className="figures">{shown(after, unit)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Ratings in percent, the fullest first. */
export function RatingTable(props: { readonly title: string; readonly ratings: readonly RatingChange[] }) {
  const sorted = [...props.ratings].sort((one, other) => other.percent - one.percent);
  return (
    <table className="fit-table">
      <caption>{props.title}</caption>
      <thead>
        <tr>
          <th scope="col">Part</th>
          <th scope="col">Rating</th>
          <th scope="col">Here</th>
          <th scope="col">Limit</th>
          <th scope="col">Was</th>
          <th scope="col">Is</th>
        </tr>
      </thead>
      <tbody>
        {sorted.map(({ part, what, basis, unit, value, limit, before, percent, isOver }) => (
          <tr key={`${part} ${what} ${basis}`} className={isOver ? 'fit-differs' : undefined}>
            <th scope="row">{part}</th>
            <td>
              {what} <span className="quiet">{basis}</span>
            </td>
            <td className="figures">{shown(value, unit)}</td>
            <td className="figures">{shown(limit, unit)}</td>
            <td className="figures">{before === null ? '—' : `${before.toFixed(0)} %`}</td>
            <td className="figures">
              {percent.toFixed(0)} %{isOver ? ', over' : ''}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

interface MovedTableProps {
  readonly readings: readonly MovedReading[];
  /** Readings whose figures stay hidden until this build's own number is in. */
  readonly isHidden: (reading: string) => boolean;
}

/** Every reading with its old and its new band, those that move most first. */
export function MovedTable({ readings, isHidden }: MovedTableProps) {
  return (
    <table className="fit-table">
      <caption>Readings</caption>
      <thead>
        <tr>
          <th scope="col">Reading</th>
          <th scope="col">Was</th>
          <th scope="col">Becomes</th>
          <th scope="col">Moved</th>
          <th scope="col">Against the kit’s band</th>
        </tr>
      </thead>
      <tbody>
        {readings.map((reading) => {
          const { id, title, condition, unit, before, after, movedShare, isInside } = reading;
          const hidden = isHidden(id);
          return (
            <tr key={id}>
              <th scope="row">
                {title} <span className="quiet">{condition}</span>
              </th>
              <td className="figures">{hidden ? 'not read yet' : shown(before.nominal, unit)}</td>
              <td className="figures">{hidden ? '' : becomes(after, unit)}</td>
              <td className="figures">{movedWords(movedShare)}</td>
              <td>{after === null ? 'no longer predicted' : isInside ? 'inside' : 'outside'}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function becomes(after: MovedReading['after'], unit: MovedReading['unit']): string {
  if (after === null) return '—';
  return `${shown(after.nominal, unit)} (${shown(after.low, unit)} to ${shown(after.high, unit)})`;
}
