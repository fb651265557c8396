import { say } from '#words/say.ts';
import type { Page } from '../page.ts';

function BenchPage() {
  return <h1>{say('place.bench')}</h1>;
}

/** The pages of Bench. */
export const benchPages: readonly Page[] = [{ path: '/bench', component: BenchPage }];
