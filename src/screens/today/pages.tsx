import { say } from '#words/say.ts';
import type { Page } from '../page.ts';

function TodayPage() {
  return <h1>{say('place.today')}</h1>;
}

/** The pages of Today. */
export const todayPages: readonly Page[] = [{ path: '/today', component: TodayPage }];
