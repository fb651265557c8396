import { say } from '#words/say.ts';
import type { Page } from '../page.ts';

function CrossesPage() {
  return <h1>{say('place.crosses')}</h1>;
}

/** The pages of Crosses. */
export const crossesPages: readonly Page[] = [{ path: '/crosses', component: CrossesPage }];
