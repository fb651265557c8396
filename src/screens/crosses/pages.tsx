import '../style/crosses.css';
import '../style/stock.css';
import type { Page } from '../page.ts';
import { ChoosingPage } from './choosing-page.tsx';
import { CrossPage } from './cross-page.tsx';
import { CrossesPage } from './crosses-page.tsx';
import { ChangeCrossPage, NewCrossPage } from './plan-page.tsx';
import { StartPage } from './start-page.tsx';

/** The pages of Crosses. */
export const crossesPages: readonly Page[] = [
  { path: '/crosses', component: CrossesPage },
  { path: '/crosses/new', component: NewCrossPage },
  { path: '/crosses/start', component: StartPage },
  { path: '/crosses/choose', component: ChoosingPage },
  { path: '/crosses/$cross', component: CrossPage },
  { path: '/crosses/$cross/change', component: ChangeCrossPage },
];
