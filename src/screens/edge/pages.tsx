import type { Page } from '../page.ts';
import { DrawerPage } from './drawer-page.tsx';
import { HistoryPage } from './history-page.tsx';

/** The pages at the edge of every place. */
export const edgePages: readonly Page[] = [
  { path: '/drawer', component: DrawerPage },
  { path: '/history', component: HistoryPage },
  { path: '/history/$record', component: HistoryPage },
];
