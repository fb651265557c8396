import type { ReactNode } from 'react';

/** One page of the product: its address (with `$name` for what varies) and what draws it. */
export type Page = { path: string; component: () => ReactNode };
