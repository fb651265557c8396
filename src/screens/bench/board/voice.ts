import { language } from '#words/say.ts';

const OFF = 'combwright.bench.voice';

/** The voice reads on until it is switched off: spectacles are often off at the eyepiece. */
export const voiceIsOn = (): boolean => localStorage.getItem(OFF) !== 'off';
export const switchVoice = (on: boolean): void => localStorage.setItem(OFF, on ? 'on' : 'off');

/** A voice of this device in the person's language; none is used that would send the words to a server. */
export function localVoice(): SpeechSynthesisVoice | null {
  if (typeof speechSynthesis === 'undefined') return null;
  const own = speechSynthesis.getVoices().filter(({ localService }) => localService);
  return own.find(({ lang }) => lang.startsWith(language())) ?? null;
}

/** A code as it is spoken: letter by letter, figure by figure. @example spokenCode('27-014') // '2 7 - 0 1 4' */
export const spokenCode = (code: string): string => [...code].join(' ').replace(/\s+-\s+/g, ' , ');

/** Reads words aloud by a voice of this device; silent when there is none or it is off. */
export function speak(words: string): void {
  const voice = localVoice();
  if (voice === null || !voiceIsOn()) return;
  speechSynthesis.cancel();
  const said = new SpeechSynthesisUtterance(words);
  said.voice = voice;
  said.lang = voice.lang;
  speechSynthesis.speak(said);
}
