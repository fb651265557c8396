import { importPages } from '../import/pages.tsx';
import type { Page } from '../page.ts';
import { KinshipGridPage } from './kinship-grid-page.tsx';
import { LinePage } from './line-page.tsx';
import { LinesPage } from './lines-page.tsx';
import { MatingPlacesPage } from './mating-places-page.tsx';
import { MatingSeasonPage } from './mating-season-page.tsx';
import { NewQueenPage } from './new-queen-page.tsx';
import { QueenLeafPage } from './queen-leaf-page.tsx';
import { SisterGroupPage, SistersPage } from './sisters-page.tsx';
import { StockPage } from './stock-page.tsx';
import { WorthPage } from './worth/worth-page.tsx';

/** The pages of Stock. */
export const stockPages: readonly Page[] = [
  { path: '/stock', component: StockPage },
  ...importPages,
  { path: '/stock/new', component: NewQueenPage },
  { path: '/stock/queen/$id', component: QueenLeafPage },
  { path: '/stock/lines', component: LinesPage },
  { path: '/stock/line/$id', component: LinePage },
  { path: '/stock/sisters', component: SistersPage },
  { path: '/stock/sisters/$id', component: SisterGroupPage },
  { path: '/stock/places', component: MatingPlacesPage },
  { path: '/stock/places/$id', component: MatingSeasonPage },
  { path: '/stock/kinship', component: KinshipGridPage },
  { path: '/stock/worth', component: WorthPage },
];
