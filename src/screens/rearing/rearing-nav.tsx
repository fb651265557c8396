import { PlaceNav, type PlacePart } from '../parts/place-nav.tsx';

const parts: readonly PlacePart[] = [
  { path: '/rearing', words: 'rearing.now' },
  { path: '/rearing/season', words: 'rearing.season' },
  { path: '/rearing/virgins', words: 'rearing.virgins' },
  { path: '/rearing/profiles', words: 'rearing.profiles' },
];

/** The parts of Rearing, side by side. */
export const RearingNav = () => <PlaceNav label="rearing.parts" parts={parts} />;
