import { sayAny } from '#words/say.ts';

/** What a profile is called: a shipped one by our words, an own one by the name its breeder gave it. */
export function profileWords(name: string): string {
  const words = sayAny(`profile.${name}`);
  return words === `[profile.${name}]` ? name : words;
}
