import type { Page } from '../page.ts';
import { BoardPage } from './board/board-page.tsx';
import { BenchDaysPage } from './days-page.tsx';
import { DevicesPage } from './devices/devices-page.tsx';
import { PairPage } from './devices/pair-page.tsx';
import { LabelsPage } from './labels-page.tsx';
import { PaperSheetPage } from './paper-page.tsx';
import { PutAwayPage } from './put-away-page.tsx';
import { SetOutPage } from './set-out-page.tsx';

/** The pages of Bench. */
export const benchPages: readonly Page[] = [
  { path: '/bench', component: BenchDaysPage },
  { path: '/bench/devices', component: DevicesPage },
  { path: '/bench/labels', component: LabelsPage },
  { path: '/pair', component: PairPage },
  { path: '/bench/$day', component: SetOutPage },
  { path: '/bench/$day/board/$cross', component: BoardPage },
  { path: '/bench/$day/paper', component: PaperSheetPage },
  { path: '/bench/$day/put-away', component: PutAwayPage },
];
