import type { Page } from '../page.ts';
import { ColonyPage } from './colony/colony-page.tsx';
import { NewColonyPage } from './new-colony-page.tsx';
import { NewYardPage } from './new-yard-page.tsx';
import { NursingPage } from './nursing/nursing-page.tsx';
import { RecordsPage } from './records/records-page.tsx';
import { EnterRoundPage } from './round/enter-page.tsx';
import { RoundPage } from './round/round-page.tsx';
import { ScoresPage } from './scores/score-page.tsx';
import { SpringPage } from './spring/spring-page.tsx';
import { YardPage } from './yard-page.tsx';
import { YardsPage } from './yards-page.tsx';

/** The pages of Yard. */
export const yardPages: readonly Page[] = [
  { path: '/yard', component: YardsPage },
  { path: '/yard/new', component: NewYardPage },
  { path: '/yard/new-colony', component: NewColonyPage },
  { path: '/yard/yard/$id', component: YardPage },
  { path: '/yard/colony/$id', component: ColonyPage },
  { path: '/yard/nursing', component: NursingPage },
  { path: '/yard/round', component: RoundPage },
  { path: '/yard/round/enter', component: EnterRoundPage },
  { path: '/yard/round/$yard', component: RoundPage },
  { path: '/yard/spring', component: SpringPage },
  { path: '/yard/scores', component: ScoresPage },
  { path: '/yard/records', component: RecordsPage },
];
