import type { Given } from './given.ts';
import { WrongInput } from './wrong-input.ts';

/** The value of a flag that takes JSON. Throws WrongInput when it is none. */
export function jsonOf(given: Given, flag: string): unknown {
  const text = given.text(flag);
  try {
    return JSON.parse(text) as unknown;
  } catch {
    const found = `"${text.slice(0, 60)}"`;
    throw new WrongInput([{ column: `--${flag}`, found, expected: 'JSON', remedy: 'quote it for your shell' }]);
  }
}

/** One of a list by name. Throws WrongInput naming all of them. */
export function namedOf<T>(given: Given, word: string, all: ReadonlyMap<string, T>): T {
  const name = given.text(word);
  const found = all.get(name);
  if (found !== undefined) return found;
  const expected = `one of ${[...all.keys()].sort().join(', ')}`;
  throw new WrongInput([{ column: word, found: `"${name}"`, expected, remedy: 'choose one of these' }]);
}
