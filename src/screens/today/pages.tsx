import '../style/today.css';
import type { Page } from '../page.ts';
import { TodayPage } from './today-page.tsx';

/** The pages of Today. */
export const todayPages: readonly Page[] = [{ path: '/today', component: TodayPage }];
