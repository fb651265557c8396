import { say } from '#words/say.ts';
import type { Page } from '../page.ts';

function SemenPage() {
  return <h1>{say('place.semen')}</h1>;
}

/** The pages of Semen. */
export const semenPages: readonly Page[] = [{ path: '/semen', component: SemenPage }];
