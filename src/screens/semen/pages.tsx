import type { Page } from '../page.ts';
import { CatchesPage } from './catches-page.tsx';
import { LaboratoryPage } from './laboratory-page.tsx';
import { NewTubePage } from './new-tube-page.tsx';
import { RackPage } from './rack-page.tsx';
import { ReceivePage } from './receive-page.tsx';
import { TallyPage } from './tally-page.tsx';
import { TubePage } from './tube-page.tsx';

/** The pages of Semen. */
export const semenPages: readonly Page[] = [
  { path: '/semen', component: RackPage },
  { path: '/semen/tally', component: TallyPage },
  { path: '/semen/new-tube', component: NewTubePage },
  { path: '/semen/receive', component: ReceivePage },
  { path: '/semen/catches', component: CatchesPage },
  { path: '/semen/laboratory', component: LaboratoryPage },
  { path: '/semen/tube/$id', component: TubePage },
];
