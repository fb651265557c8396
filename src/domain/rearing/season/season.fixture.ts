/** Seasons for tests: nothing limited unless told, and a profile small enough to try everything. */
import { figure } from '../figure.ts';
import type { BiologyProfile } from '../profile.ts';
import { standardText } from '../standard-text.ts';
import { type SeasonLimits, type SeasonWish, unlimited } from './season-wish.ts';

type Asked = Pick<SeasonWish, 'crosses' | 'from' | 'to'> &
  Partial<Omit<SeasonWish, 'limits'>> & { limits?: Partial<SeasonLimits> };

/** A wish with the limits given, all others open. */
export function season({ limits, ...asked }: Asked): SeasonWish {
  return { profile: standardText, ...asked, limits: { ...unlimited, ...limits } };
}

/** Queens of 8 days only, so one graft day for each insemination day. */
export const smallProfile: BiologyProfile = {
  ...standardText,
  name: 'small',
  timings: { ...standardText.timings, combLead: figure(2, 'common practice', 'test') },
  queens: { ...standardText.queens, preferred: { from: 8, to: 8 } },
};
