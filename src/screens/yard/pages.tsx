import { say } from '#words/say.ts';
import type { Page } from '../page.ts';

function YardPage() {
  return <h1>{say('place.yard')}</h1>;
}

/** The pages of Yard. */
export const yardPages: readonly Page[] = [{ path: '/yard', component: YardPage }];
