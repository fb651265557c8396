import { say } from '#words/say.ts';
import type { Page } from '../page.ts';

function StockPage() {
  return <h1>{say('place.stock')}</h1>;
}

/** The pages of Stock. */
export const stockPages: readonly Page[] = [{ path: '/stock', component: StockPage }];
