import type { Page } from '../page.ts';
import { LessonsPage } from './lessons-page.tsx';

/** The pages of Lessons, which stand in Bench. */
export const lessonsPages: readonly Page[] = [{ path: '/bench/lessons', component: LessonsPage }];
