/** What a tone says: a timer is over, or the plug has to come out. */
export type ToneKind = 'timer' | 'danger';

/** Pitch of each beep in hertz (Hz), and where it begins, in seconds (s): two rising, or three the same. */
const beeps: Readonly<Record<ToneKind, readonly { readonly hertz: number; readonly atSeconds: number }[]>> = {
  timer: [
    { hertz: 660, atSeconds: 0 },
    { hertz: 880, atSeconds: 0.22 },
  ],
  danger: [
    { hertz: 990, atSeconds: 0 },
    { hertz: 990, atSeconds: 0.25 },
    { hertz: 990, atSeconds: 0.5 },
  ],
};

const beepSeconds = 0.16;
const loudness = 0.25;

let context: AudioContext | null = null;

/**
 * Sounds a tone made on the spot: no file is fetched.
 *
 * Where the platform has no sound, or gives none before the page was first used, there is silence.
 */
export function soundTone(kind: ToneKind): void {
  if (typeof AudioContext === 'undefined') return;
  context ??= new AudioContext();
  const audio = context;
  // Left suspended until a key or a click: browsers decide.
  void audio.resume().catch(() => undefined);
  for (const { hertz, atSeconds } of beeps[kind]) {
    const from = audio.currentTime + atSeconds;
    const gain = audio.createGain();
    // A ramp at both ends: an edge would click.
    gain.gain.setValueAtTime(0, from);
    gain.gain.linearRampToValueAtTime(loudness, from + 0.01);
    gain.gain.setValueAtTime(loudness, from + beepSeconds - 0.03);
    gain.gain.linearRampToValueAtTime(0, from + beepSeconds);
    const oscillator = audio.createOscillator();
    oscillator.frequency.value = hertz;
    oscillator.connect(gain).connect(audio.destination);
    oscillator.start(from);
    oscillator.stop(from + beepSeconds);
  }
}
