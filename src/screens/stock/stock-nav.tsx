import { PlaceNav, type PlacePart } from '../parts/place-nav.tsx';

const parts: readonly PlacePart[] = [
  { path: '/stock', words: 'stock.queens' },
  { path: '/stock/lines', words: 'stock.lines' },
  { path: '/stock/sisters', words: 'stock.sisters' },
  { path: '/stock/places', words: 'stock.places' },
  { path: '/stock/kinship', words: 'stock.kinship' },
  { path: '/stock/worth', words: 'stock.worth' },
  { path: '/stock/import', words: 'stock.bring' },
];

/** The parts of Stock, side by side. */
export const StockNav = () => <PlaceNav label="stock.parts" parts={parts} />;
