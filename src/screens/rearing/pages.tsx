import '../style/crosses.css';
import '../style/profiles.css';
import '../style/rearing.css';
import '../style/raising.css';
import '../style/stock.css';
import type { Page } from '../page.ts';
import { BarPage } from './bar-page.tsx';
import { CombPage, NewCombPage } from './comb-pages.tsx';
import { CountbackPage } from './countback-page.tsx';
import { NewBarPage } from './new-bar-page.tsx';
import { ProfilesPage } from './profiles/profiles-page.tsx';
import { RearingPage } from './rearing-page.tsx';
import { SeasonPage } from './season/season-page.tsx';
import { VirginsPage } from './virgins-page.tsx';

/** The pages of Rearing. */
export const rearingPages: readonly Page[] = [
  { path: '/rearing', component: RearingPage },
  { path: '/rearing/profiles', component: ProfilesPage },
  { path: '/rearing/profiles/$profile', component: ProfilesPage },
  { path: '/rearing/season', component: SeasonPage },
  { path: '/rearing/virgins', component: VirginsPage },
  { path: '/rearing/countback/$cross', component: CountbackPage },
  { path: '/rearing/graft/new', component: NewBarPage },
  { path: '/rearing/graft/$graft', component: BarPage },
  { path: '/rearing/comb/new', component: NewCombPage },
  { path: '/rearing/comb/$comb', component: CombPage },
];
