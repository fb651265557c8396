import '../style/yard.css';
import { PlaceNav, type PlacePart } from '../parts/place-nav.tsx';

const parts: readonly PlacePart[] = [
  { path: '/yard', words: 'yard.yards' },
  { path: '/yard/nursing', words: 'yard.nursing' },
  { path: '/yard/round', words: 'yard.round' },
  { path: '/yard/spring', words: 'yard.spring' },
  { path: '/yard/scores', words: 'yard.scores' },
  { path: '/yard/records', words: 'yard.records' },
];

/** The parts of Yard, side by side. */
export const YardNav = () => <PlaceNav label="yard.parts" parts={parts} />;
