import { createRootRoute, createRoute, createRouter, redirect } from '@tanstack/react-router';
import { HistoryPage } from './edge/history-page.tsx';
import { NoPage } from './parts/no-page.tsx';
import { Frame } from './shell/frame.tsx';

const root = createRootRoute({ component: Frame, notFoundComponent: NoPage });

const start = createRoute({
  getParentRoute: () => root,
  path: '/',
  beforeLoad: () => {
    throw redirect({ to: '/today' });
  },
});

const page = (path: string, component: () => React.ReactNode) =>
  createRoute({ getParentRoute: () => root, path, component });

/** Every page of the product and its address. */
export const router = createRouter({
  routeTree: root.addChildren([start, page('/history', HistoryPage), page('/history/$record', HistoryPage)]),
});
