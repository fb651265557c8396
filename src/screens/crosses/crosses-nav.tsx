import { PlaceNav, type PlacePart } from '../parts/place-nav.tsx';

const parts: readonly PlacePart[] = [
  { path: '/crosses', words: 'cross.all' },
  { path: '/crosses/choose', words: 'cross.choose' },
  { path: '/crosses/start', words: 'cross.start' },
];

/** The parts of Crosses, side by side. */
export const CrossesNav = () => <PlaceNav label="cross.parts" parts={parts} />;
