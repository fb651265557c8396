import { say } from '#words/say.ts';
import type { Page } from '../page.ts';

function RearingPage() {
  return <h1>{say('place.rearing')}</h1>;
}

/** The pages of Rearing. */
export const rearingPages: readonly Page[] = [{ path: '/rearing', component: RearingPage }];
