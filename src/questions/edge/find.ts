import { z } from 'zod';
import { nearness } from '#domain/finding/nearness.ts';
import type { KindName } from '#records/kinds.ts';
import { type Question, question } from '../mechanism/question.ts';

/** One thing found: what it is, the word it was found by, and what stands beside it. */
export type Found = { kind: KindName; id: string; code: string; beside: string };

type Named = Found & { words: string };

const input = z.strictObject({ words: z.string().max(200) });

const MOST = 30;

/** Finds a record by its code, a former code, a disc number, a name, or words of a note; typing slips are forgiven. */
export const find: Question<z.infer<typeof input>, Named[], { found: Found[] }> = question({
  name: 'find',
  what: 'Find records by code, former code, disc number, name or words of a note.',
  input,
  reads: [
    'queen',
    'queen_code',
    'mark',
    'line',
    'sister_group',
    'person',
    'yard',
    'colony',
    'cross',
    'graft',
    'drone_comb',
    'tube',
    'cage',
    'bench_day',
    'note',
  ],
  async gather(_, facts) {
    const named: Named[] = [];
    const queens = new Map((await facts.find('queen')).map((queen) => [queen.id, queen]));
    const yearOf = (id: string) => {
      const queen = queens.get(id as never);
      return String(queen?.emerged?.slice(0, 4) ?? queen?.year ?? '');
    };
    const codeOf = (id: string) => queens.get(id as never)?.code ?? '–';
    for (const { id, code } of queens.values())
      if (code !== null) named.push({ kind: 'queen', id, code, beside: yearOf(id), words: code });
    for (const { queen, code } of await facts.find('queen_code'))
      named.push({ kind: 'queen', id: queen, code: codeOf(queen), beside: `${code} ${yearOf(queen)}`, words: code });
    for (const { queen, colour, disc } of await facts.find('mark'))
      if (disc !== null)
        named.push({
          kind: 'queen',
          id: queen,
          code: codeOf(queen),
          beside: `${colour ?? ''} ${disc} ${yearOf(queen)}`.trim(),
          words: `${colour ?? ''} ${disc}`.trim(),
        });
    for (const kind of ['sister_group', 'colony', 'cross', 'graft', 'drone_comb', 'tube'] as const)
      for (const { id, code } of await facts.find(kind)) named.push({ kind, id, code, beside: '', words: code });
    for (const kind of ['line', 'person', 'yard'] as const)
      for (const { id, name } of await facts.find(kind)) named.push({ kind, id, code: name, beside: '', words: name });
    for (const { id, number } of await facts.find('cage'))
      named.push({ kind: 'cage', id, code: number, beside: '', words: number });
    for (const { id, day } of await facts.find('bench_day'))
      named.push({ kind: 'bench_day', id, code: day, beside: '', words: day });
    for (const { about, about_kind, words } of await facts.find('note'))
      named.push({ kind: about_kind as KindName, id: about, code: words.slice(0, 60), beside: '', words });
    return named;
  },
  answer(named, { words }) {
    const ranked = named
      .map((each) => ({ each, near: nearness(words, each.words) }))
      .filter(({ near }) => near > 0)
      .sort((a, b) => b.near - a.near || (a.each.code < b.each.code ? -1 : 1));
    return { found: ranked.slice(0, MOST).map(({ each: { words: _, ...found } }) => found) };
  },
});
