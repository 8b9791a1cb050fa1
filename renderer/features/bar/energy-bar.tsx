import { useState } from 'react';
import type { ReactNode } from 'react';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { AlertSymbol } from '../../components/caution-panel.tsx';
import { Dialog } from '../../components/dialog.tsx';
import type { Pressed } from '../../components/keys.ts';
import { barWords, unknownWords } from './bar-words.ts';
import type { BarWords } from './bar-words.ts';

/**
 * The two keys of the bench.
 *
 * Function keys, because they never type anything and are heard in every field; F8 and F9 mean nothing to
 * the browser page, and lie beside each other far from Escape and ⏎.
 */
export const wrongKey = 'F8';
export const pullKey = 'F9';

interface EnergyBarProps {
  readonly build: Build;
  /** Called once the plug is confirmed out. */
  readonly onPlugOut: () => void;
  /** Below the state: timers. */
  readonly children?: ReactNode;
}

/** The energy state, always on top, over the whole width. */
export function EnergyBar({ build, onPlugOut, children }: EnergyBarProps) {
  const [asking, setAsking] = useState(false);
  const words = build.known ? barWords({ ...build, bench: build.build.bench }) : unknownWords;
  const { energy } = build.safety;
  const isLive = energy.kind === 'live';
  const wrong = (by: Pressed): void => void build.act({ kind: 'something-wrong', by });
  const confirm = async (by: Pressed): Promise<void> => {
    if (!(await build.act({ kind: 'plug-out-confirmed', by }))) return;
    setAsking(false);
    onPlugOut();
  };
  return (
    <header className={`bar bar-${words.look}`} aria-label="Energy state">
      <BarState words={words} />
      {isLive ? (
        <div className="bar-keys">
          <ActButton look="wrong" hotkey={wrongKey} onAct={wrong} blocked={!build.known}>
            Something is wrong
          </ActButton>
          <ActButton look="pull" hotkey={pullKey} onAct={() => setAsking(true)} blocked={!build.known}>
            Pull the plug
          </ActButton>
        </div>
      ) : null}
      {children}
      <Dialog title="Pull the plug" open={asking && isLive} onCancel={() => setAsking(false)}>
        <p className="large">Pull the plug out of the wall and lay it where you can see it.</p>
        <p>
          This app switches nothing. The amplifier counts as live until you confirm. Off at the switch is not
          enough.
        </p>
        <div className="dialog-keys">
          <ActButton look="move" onAct={(by) => void confirm(by)}>
            The plug is out and in sight
          </ActButton>
          <ActButton look="quiet" onAct={() => setAsking(false)}>
            Not yet
          </ActButton>
        </div>
      </Dialog>
    </header>
  );
}

function BarState({ words }: { readonly words: BarWords }) {
  return (
    <p className="bar-state">
      {words.look === 'dead' ? <span className="bar-dot" aria-hidden="true" /> : <AlertSymbol />}
      <strong>{words.state}</strong>
      <span className="bar-words">
        <span className="bar-details">
          {words.details.map((detail) => (
            <span key={detail.replace(/\d+/g, '')}>{detail}</span>
          ))}
        </span>
        <span className="bar-reminder">{words.reminder}</span>
      </span>
    </p>
  );
}
