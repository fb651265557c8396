import './style/tokens.css';
import './style/base.css';
import './style/parts.css';
import './style/frame.css';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { RouterProvider } from '@tanstack/react-router';
import { StrictMode, useEffect } from 'react';
import { createRoot } from 'react-dom/client';
import { listenForNews } from './link/live.ts';
import { openOutbox } from './link/outbox/outbox.ts';
import { OutOfReach } from './link/server.ts';
import { setClock } from './link/this-device.ts';
import { Told } from './parts/told.tsx';
import { router } from './routes.tsx';

const client = new QueryClient({
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
