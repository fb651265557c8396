import './style/tokens.css';
import './style/base.css';
import './style/parts.css';
import './style/frame.css';
import { QueryCache, QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { RouterProvider } from '@tanstack/react-router';
import { StrictMode, useEffect } from 'react';
import { createRoot } from 'react-dom/client';
import { listenForNews } from './link/live.ts';
import { openOutbox } from './link/outbox/outbox.ts';
import { OutOfReach, RefusedByServer } from './link/server.ts';
import { setClock } from './link/this-device.ts';
import { Told } from './parts/told.tsx';
import { router } from './routes.tsx';

/** A device that is not let in is shown where it asks to be; the board stays, because it keeps what is done. */
function notLetIn(error: Error): void {
  if (!(error instanceof RefusedByServer) || error.status !== 401 || location.pathname.includes('/board/')) return;
  if (location.pathname !== '/pair') void router.navigate({ to: '/pair', hash: location.hash.slice(1) });
}

const client = new QueryClient({
  queryCache: new QueryCache({ onError: notLetIn }),
  defaultOptions: {
    queries: { retry: (n, error) => error instanceof OutOfReach && n < 3, staleTime: 30_000, networkMode: 'always' },
    mutations: { networkMode: 'always' },
  },
});

function Page() {
  useEffect(() => listenForNews(client), []);
  return (
    <QueryClientProvider client={client}>
      <RouterProvider router={router} />
      <Told />
    </QueryClientProvider>
  );
}

const asked = new URLSearchParams(location.search).get('today');
if (asked !== null && /^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2})?$/.test(asked)) setClock(asked);
document.documentElement.dataset.theme = localStorage.getItem('combwright.theme') ?? 'paper';

void openOutbox();

const page = document.getElementById('page');
if (page === null) throw new Error('index.html has no #page');
createRoot(page).render(
  <StrictMode>
    <Page />
  </StrictMode>,
);
