/** What a column of a breeder's table can mean. `note` keeps what it holds as a note of the queen; `nothing` leaves it out. */
export const meanings = [
  'code',
  'dam',
  'emerged',
  'year',
  'drones',
  'drone-count',
  'semen',
  'inseminated',
  'dose',
  'colour',
  'disc',
  'clip',
  'line',
  'yard',
  'hive',
  'fate',
  'fate-on',
  'cause',
  'origin',
  'former-code',
  'sisters',
  'note',
  'nothing',
] as const;
export type Meaning = (typeof meanings)[number];

/** A second thing a column holds behind a mark: `26-014/3` is a code and a disc number. */
export type Split = { by: string; second: Meaning };

/** What one column means. */
export type ColumnMeaning = { meaning: Meaning; split: Split | null };

/** Meanings only one column can have; a second one of it is kept as a note. */
export const oneColumnOnly: ReadonlySet<Meaning> = new Set(meanings.filter((m) => m !== 'note' && m !== 'nothing'));

/** Meanings whose cells are read as days. */
export const dayMeanings: ReadonlySet<Meaning> = new Set<Meaning>(['emerged', 'inseminated', 'fate-on']);
