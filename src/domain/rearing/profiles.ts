import { commonPractice } from './common-practice.ts';
import { earlySpring } from './early-spring.ts';
import type { BiologyProfile } from './profile.ts';
import { standardText } from './standard-text.ts';

/** The profiles that ship; the first is used when none is named. */
export const shippedProfiles: readonly BiologyProfile[] = [standardText, commonPractice, earlySpring];

/**
 * The profile of that name, from the shipped ones and the user's `own`; `null` when there is none.
 * Upper case and blanks do not matter: "Standard text" is `standard-text`.
 */
export function profileNamed(name: string, own: readonly BiologyProfile[] = []): BiologyProfile | null {
  const plain = (text: string) => text.trim().toLowerCase().replace(/\s+/g, '-');
  return [...own, ...shippedProfiles].find((profile) => plain(profile.name) === plain(name)) ?? null;
}
