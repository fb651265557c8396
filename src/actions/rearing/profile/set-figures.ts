import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../../mechanism/action.ts';
import { creating, dropping, setting } from '../../mechanism/recording.ts';
import { figuresProblems, figureTyped } from './check-profile.ts';
import { figureShape } from './shapes.ts';

const input = z.strictObject({
  profile: idShape,
  figures: z.array(figureShape).max(60).default([]),
  /** Figures that go back to what the profile is based on. */
  back: z.array(z.string().max(100)).max(60).default([]),
});

/** Sets figures of a profile of one's own, each with its range and what it rests on, or puts them back to those of its base. One act. */
export const setFigures = action({
  name: 'set-figures',
  place: 'rearing',
  what: 'Set figures of your own set of times and losses, each with range and source, or put them back to its base.',
  input: input as z.ZodType<z.infer<typeof input>>,
  async run({ profile, figures, back }, { book, newId }) {
    const row = await book.get('biology_profile', profile);
    const no = { changes: [], result: null };
    if (row === null)
      return { ...no, problems: [refuse('profile', 'unknown-record', { kind: 'biology_profile', id: profile })] };
    const kept = await book.find('biology_figure', { profile });
    const stays = kept.filter(({ figure }) => !back.includes(figure));
    const problems = figuresProblems(row, stays, figures);
    if (problems.length > 0) return { ...no, problems };
    const known = new Map(kept.map((each) => [each.figure, each.id]));
    const set = figures.map((entry) => {
      const { key, ...fields } = figureTyped(entry);
      const of = { ...fields, source: entry.source ?? null, learned: entry.learned ? (1 as const) : null };
      const id = known.get(key);
      return id === undefined
        ? creating('biology_figure', newId(), { profile, figure: key, ...of })
        : setting('biology_figure', id, of);
    });
    const dropped = kept.filter(({ figure }) => back.includes(figure)).map(({ id }) => dropping('biology_figure', id));
    return { changes: [...set, ...dropped], result: { id: profile } };
  },
});
