import { useEffect, useState } from 'react';
import { footKeyFault } from '../../../shared-core/contract/settings.ts';
import type { Settings } from '../../../shared-core/contract/settings.ts';
import { hush, offlineVoice, platformSpeech, readAloud } from '../../bridge/speech.ts';
import { soundTone } from '../../bridge/tone.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Choice } from '../../components/choice.tsx';

interface HandsFreeProps {
  readonly settings: Settings;
  readonly onChange: (settings: Partial<Settings>) => void;
}

/** Sound, reading aloud and the foot switch. */
export function HandsFree({ settings, onChange }: HandsFreeProps) {
  return (
    <section className="form-part" aria-label="Hands free">
      <h2>Hands free</h2>
      <Choice
        label="Tone at the end of a timer"
        value={settings.sound}
        options={['on', 'off']}
        onChange={(sound) => {
          onChange({ sound });
          if (sound === 'on') soundTone('timer');
        }}
      />
      <ReadAloudChoice settings={settings} onChange={onChange} />
      <FootKey settings={settings} onChange={onChange} />
      <p className="quiet">
        Neither a voice nor a foot acknowledges a caution, confirms the plug, enters a reading or proves a
        store: that stays with the hands.
      </p>
    </section>
  );
}

function ReadAloudChoice({ settings, onChange }: HandsFreeProps) {
  const hasVoice = useHasVoice();
  if (!hasVoice) {
    return (
      <p>
        <strong>Steps read aloud:</strong> this computer offers no English voice of its own. A voice from the
        network is never used.
      </p>
    );
  }
  return (
    <Choice
      label="Steps and verdicts read aloud"
      value={settings.speech}
      options={['on', 'off']}
      onChange={(speech) => {
        onChange({ speech });
        if (speech === 'on') readAloud('Steps are read aloud.');
        else hush();
      }}
    />
  );
}

/** Voices arrive some time after they were first asked for. */
function useHasVoice(): boolean {
  const [hasVoice, setHasVoice] = useState(look);
  useEffect(() => {
    const speech = platformSpeech();
    const again = (): void => setHasVoice(look());
    speech?.addEventListener('voiceschanged', again);
    return () => speech?.removeEventListener('voiceschanged', again);
  }, []);
  return hasVoice;
}

function look(): boolean {
  return offlineVoice(platformSpeech()?.getVoices() ?? []) !== null;
}

function FootKey({ settings, onChange }: HandsFreeProps) {
  const [isAsking, setAsking] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    if (!isAsking) return undefined;
    const hear = (event: KeyboardEvent): void => {
      if (event.repeat || event.key === 'Tab') return;
      event.preventDefault();
      event.stopPropagation();
      setAsking(false);
      if (event.key === 'Escape') return;
      const why = footKeyFault(event.key);
      setFault(why);
      if (why === null) onChange({ footKey: event.key });
    };
    window.addEventListener('keydown', hear, true);
    return () => window.removeEventListener('keydown', hear, true);
  }, [isAsking, onChange]);
  return (
    <div className="foot-key">
      <p>
        <strong>Foot switch:</strong> {settings.footKey === null ? 'none' : <kbd>{settings.footKey}</kbd>}. It
        goes on after a good reading, and from a step that is done by its readings.
      </p>
      <div className="step-foot">
        <ActButton
          pressed={isAsking}
          onAct={() => {
            setFault(null);
            setAsking(!isAsking);
          }}
        >
          {isAsking ? 'Press the foot switch now' : 'Choose its key'}
        </ActButton>
        {settings.footKey === null ? null : (
          <ActButton look="quiet" onAct={() => onChange({ footKey: null })}>
            No foot switch
          </ActButton>
        )}
      </div>
      <div role="alert">
        {fault === null ? null : (
          <p className="field-error">{fault} Set the switch to Page Down or F13, for example.</p>
        )}
      </div>
    </div>
  );
}
