import '../style/queen-mark.css';
import { drawnColour, type QueenFace } from '#domain/marking/queen-face.ts';
import { type MarkColour, yearMark } from '#domain/marking/year-colour.ts';
import { say, sayAny } from '#words/say.ts';

/** Outlines on a 24 × 24 grid; the stroke stays 2 px at every size. */
const outlines: Readonly<Record<MarkColour, string>> = {
  white: 'M12 2.5a9.5 9.5 0 1 0 0 19a9.5 9.5 0 1 0 0 -19Z',
  yellow: 'M12 2.5 22 21H2Z',
  red: 'M12 1.5 22.5 12 12 22.5 1.5 12Z',
  green: 'M3 3h18v18H3Z',
  blue: 'M8.5 2h7v6.5H22v7h-6.5V22h-7v-6.5H2v-7h6.5Z',
};

/** No known mark: an open ring of dashes. */
const bare = 'M12 3.5a8.5 8.5 0 1 0 0 17a8.5 8.5 0 1 0 0 -17Z';

/** The drawn shape of a mark colour alone; `null` draws the open ring of a queen without a known mark. */
export function MarkShape({ colour }: { colour: MarkColour | null }) {
  return (
    <svg viewBox="0 0 24 24" aria-hidden="true">
      <path className={`shape ${colour ?? 'bare'}`} d={colour === null ? bare : outlines[colour]} />
    </svg>
  );
}

type Marked = Pick<QueenFace, 'year' | 'mark'>;

/** A mark in words: "red, 2028, disc 14", "not marked, 2027", "blue seen, 2027 should be yellow". */
export function markWords({ year, mark }: Marked): string {
  const colour = drawnColour({ year, mark });
  const worn = mark?.colour === 'other' || mark?.colour === 'none' ? mark.colour : colour;
  const words = [worn === null ? say('mark.not-known') : sayAny(`mark.${worn}`)];
  if (year !== null) words.push(String(year));
  if (mark?.disc != null) words.push(say('mark.disc', { disc: mark.disc }));
  const due = year === null ? null : yearMark(year).colour;
  if (colour !== null && due !== null && colour !== due)
    words.push(say('mark.not-of-year', { due: sayAny(`mark.${due}`) }));
  return words.join(', ');
}

/**
 * A queen's mark as it is seen on her back: the shape and colour of her year (or the colour really on her), the disc number, the
 * two-digit year. Its name for screen readers is {@link markWords}.
 */
export function QueenMark({ year, mark, large = false }: Marked & { large?: boolean }) {
  const words = markWords({ year, mark });
  return (
    <span className={large ? 'queen-mark large' : 'queen-mark'} role="img" aria-label={words} title={words}>
      <MarkShape colour={drawnColour({ year, mark })} />
      {mark?.disc == null ? null : <span className="disc">{mark.disc}</span>}
      {year === null ? null : <span className="year">’{String(year).slice(-2)}</span>}
    </span>
  );
}
