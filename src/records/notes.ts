import { count, day, needed, oneOf, ref, refToAny, text } from './field.ts';
import { kind } from './kind.ts';

/** Plain words about any record. */
export const note = kind('note', {
  about_kind: needed(text()),
  about: needed(refToAny()),
  words: needed(text()),
  day: day(),
  person: ref('person'),
});

/** A picture of any record; its bytes are kept by content hash. */
export const photo = kind('photo', {
  about_kind: needed(text()),
  about: needed(refToAny()),
  hash: needed(text()),
  form: needed(oneOf('image/jpeg', 'image/png', 'image/webp')),
  taken_on: day(),
  width: count(),
  height: count(),
});

/** Something recorded that does not fit, standing open until a person settles it. */
export const worry = kind('worry', {
  about_kind: text(),
  about: refToAny(),
  code: needed(text()),
  /** The values its sentence needs, as JSON text. */
  said: needed(text()),
  settled_on: day(),
  settled_how: text(),
});

/** A choice of the keeper: words, defaults, the mapping of the last import. */
export const setting = kind('setting', { name: needed(text()), value: needed(text()) });
