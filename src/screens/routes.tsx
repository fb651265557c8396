import { createRootRoute, createRoute, createRouter, redirect } from '@tanstack/react-router';
import { benchPages } from './bench/pages.tsx';
import { crossesPages } from './crosses/pages.tsx';
import { edgePages } from './edge/pages.tsx';
import { lessonsPages } from './lessons/pages.tsx';
import { NoPage } from './parts/no-page.tsx';
import { rearingPages } from './rearing/pages.tsx';
import { semenPages } from './semen/pages.tsx';
import { Frame } from './shell/frame.tsx';
import { stockPages } from './stock/pages.tsx';
import { todayPages } from './today/pages.tsx';
import { yardPages } from './yard/pages.tsx';

const root = createRootRoute({ component: Frame, notFoundComponent: NoPage });

const start = createRoute({
  getParentRoute: () => root,
  path: '/',
  beforeLoad: () => {
    throw redirect({ to: '/today' });
  },
});

const everyPage = [
  ...benchPages,
  ...crossesPages,
  ...edgePages,
  ...lessonsPages,
  ...rearingPages,
  ...semenPages,
  ...stockPages,
  ...todayPages,
  ...yardPages,
];

/** Every page of the product and its address. */
export const router = createRouter({
  routeTree: root.addChildren([
    start,
    ...everyPage.map(({ path, component }) => createRoute({ getParentRoute: () => root, path, component })),
  ]),
});
