import type { FitReason, FitReport, SocketFit } from '../../../shared-core/faults/fit-report.ts';
import { CautionPanel } from '../../components/caution-panel.tsx';
import { VerdictMark } from '../../components/verdict-mark.tsx';
import { fitShapes, fitWords, shown } from './fit-figures.ts';
import { MovedTable, PinTable, PointTable, RatingTable } from './fit-tables.tsx';

/** Ratings below this many percent are left out of the screen. */
const worthShowing = 50;

interface FitAnswerProps {
  readonly report: FitReport;
  readonly isHidden: (reading: string) => boolean;
}

/** The answer: verdict and reasons first, then what stands behind them. */
export function FitAnswer({ report, isHidden }: FitAnswerProps) {
  const { verdict, words, reasons, sockets, notes, windings, ratings, readings } = report;
  const hidden = readings.some(({ id }) => isHidden(id));
  const full = ratings.filter(({ percent }) => percent >= worthShowing);
  return (
    <section className="fit-answer" aria-label="Answer">
      <p className="large fit-verdict">
        <VerdictMark verdict={fitShapes[verdict]} words={words} />
      </p>
      {reasons.length === 0 ? null : <Reasons reasons={reasons} many={sockets.length > 1} />}
      {notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
      {sockets.map((socket) => (
        <Socket key={socket.socket} socket={socket} hidden={hidden} />
      ))}
      {windings.length === 0 ? null : <RatingTable title="Windings and fuses" ratings={windings} />}
      {full.length === 0 ? null : <RatingTable title="Ratings from 50 % up" ratings={full} />}
      {readings.length === 0 ? null : <MovedTable readings={readings} isHidden={isHidden} />}
      {hidden ? (
        <p className="quiet">
          Voltages of this build are shown once its own numbers are in, so that nobody reads what is expected.
        </p>
      ) : null}
    </section>
  );
}

/** Why not, and what would be damaged. */
function Reasons(props: { readonly reasons: readonly FitReason[]; readonly many: boolean }) {
  const { reasons, many } = props;
  const isDangerous = reasons.some(({ damage }) => damage !== null);
  return (
    <CautionPanel level={isDangerous ? 'warning' : 'notice'}>
      <ul className="fit-reasons">
        {reasons.map(({ code, socket, text, damage }) => (
          <li key={`${code} ${socket} ${text}`}>
            {many && socket !== '' ? <strong>{socket}: </strong> : null}
            {text}
            {damage === null ? null : (
              <>
                {' '}
                <strong>{damage}</strong>
              </>
            )}
          </li>
        ))}
      </ul>
    </CautionPanel>
  );
}

function Socket({ socket, hidden }: { readonly socket: SocketFit; readonly hidden: boolean }) {
  const { title, type, kitType, verdict, notes, pins, heater, points } = socket;
  return (
    <section className="fit-socket" aria-label={`${socket.socket}, ${type}`}>
      <h2>
        {socket.socket}, {title}: {type} for {kitType}
      </h2>
      <p>
        <VerdictMark verdict={fitShapes[verdict]} words={fitWords[verdict]} />
      </p>
      {notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
      {heater.map((wire) => (
        <p key={wire.pins.join(' ')}>
          Heater, pins {wire.pins[0]} and {wire.pins[1]}: {shown(wire.volts, 'V')} of{' '}
          {shown(wire.ratedVolts, 'V')}, {shown(wire.amps, 'A')} of {shown(wire.ratedAmps, 'A')}.
        </p>
      ))}
      {pins.length === 0 ? null : <PinTable pins={pins} type={type} />}
      {points.length === 0 || hidden ? null : <PointTable points={points} />}
    </section>
  );
}
