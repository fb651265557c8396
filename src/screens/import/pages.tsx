import type { Page } from '../page.ts';
import { ImportPage } from './import-page.tsx';

/** The pages that bring a breeder's own tables in. */
export const importPages: readonly Page[] = [{ path: '/stock/import', component: ImportPage }];
