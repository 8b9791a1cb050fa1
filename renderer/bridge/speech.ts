/** A voice, as the platform names it. */
export type Voice = Pick<SpeechSynthesisVoice, 'lang' | 'localService' | 'default' | 'name'>;

/**
 * The voice to read with: one that this computer itself has, in English; null where there is none.
 *
 * A voice without `localService` would send every word to somebody else's computer.
 */
export function offlineVoice<Each extends Voice>(voices: readonly Each[]): Each | null {
  const own = voices.filter(({ localService, lang }) => localService && /^en\b/i.test(lang));
  return own.find((voice) => voice.default) ?? own[0] ?? null;
}

/** The platform's speech; null where there is none. */
export function platformSpeech(): SpeechSynthesis | null {
  return typeof speechSynthesis === 'undefined' ? null : speechSynthesis;
}

/**
 * Reads words aloud; silent without a voice of this computer's own.
 *
 * @param when `now`: in place of what is being read.
 */
export function readAloud(words: string, when: 'now' | 'afterwards' = 'now'): void {
  const speech = platformSpeech();
  const voice = speech === null ? null : offlineVoice(speech.getVoices());
  if (speech === null || voice === null) return;
  if (when === 'now') speech.cancel();
  if (words === '') return;
  const utterance = new SpeechSynthesisUtterance(spoken(words));
  utterance.voice = voice;
  utterance.lang = voice.lang;
  speech.speak(utterance);
}

/** Ends what is being read. */
export function hush(): void {
  platformSpeech()?.cancel();
}

/** Signs that voices leave out or spell, as words. */
const asWords: readonly (readonly [RegExp, string])[] = [
  [/\u202f|\u00a0/g, ' '],
  [/(\d) kΩ/g, '$1 kilohms'],
  [/(\d) MΩ/g, '$1 megohms'],
  [/(\d) Ω/g, '$1 ohms'],
  [/(\d) mV\b/g, '$1 millivolts'],
  [/(\d) kV\b/g, '$1 kilovolts'],
  [/(\d) V\b/g, '$1 volts'],
  [/(\d) mA\b/g, '$1 milliamps'],
  [/(\d) W\b/g, '$1 watts'],
  [/(\d) s\b/g, '$1 seconds'],
  [/(\d) min\b/g, '$1 minutes'],
  [/−/g, 'minus '],
  [/±/g, 'plus or minus '],
  [/ · /g, ', '],
];

/** Words as they are said: "8.4 V" is "8.4 volts". */
export function spoken(words: string): string {
  return asWords.reduce((text, [sign, word]) => text.replace(sign, word), words);
}
