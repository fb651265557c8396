import { z } from 'zod';
import { yearMark } from '#domain/marking/year-colour.ts';
import type { Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { yearOf } from '#units/calendar-day.ts';
import { refuse } from '#units/problem.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  queen: idShape,
  code: z.string().trim().min(1).max(200).nullable().optional(),
  disc: z.int().min(0).nullable().optional(),
  clip: z.enum(['left', 'right', 'none']).nullable().optional(),
});
type Input = z.infer<typeof input>;

function codeGiven(her: Row<'queen'>, code: string | null, { newId, day }: Circumstances): Change[] {
  if (code === null || code === her.code) return [];
  const former =
    her.code === null ? [] : [creating('queen_code', newId(), { queen: her.id, code: her.code, borne_to: day })];
  return [setting('queen', her.id, { code }), ...former];
}

async function markGiven(
  her: Row<'queen'>,
  { disc, clip }: Input,
  { book, newId, day }: Circumstances,
): Promise<Change[]> {
  if ((disc ?? null) === null && (clip ?? null) === null) return [];
  const worn = await book.find('mark', { queen: her.id, worn_to: null });
  const last = worn.at(-1);
  const year = her.emerged === null ? her.year : yearOf(her.emerged);
  const colour = last?.colour ?? (year === null ? null : yearMark(year).colour);
  const mark = { colour, disc: disc ?? last?.disc ?? null, clip: clip ?? last?.clip ?? null };
  return [
    ...worn.map(({ id }) => setting('mark', id, { worn_to: day })),
    creating('mark', newId(), { queen: her.id, ...mark, worn_from: day }),
  ];
}

/** Code, disc and clip given while she sleeps under the gas: before that a virgin is her bar, her cell and her cage. */
export const markAtBench = action({
  name: 'mark-at-bench',
  place: 'bench',
  what: 'Give a queen her code, her numbered disc and her clipped wing while she is under the gas.',
  input,
  async run(given, circumstances) {
    const her = await circumstances.book.get('queen', given.queen);
    if (her === null) {
      const values = { kind: 'queen', id: given.queen };
      return { changes: [], result: null, problems: [refuse('queen', 'unknown-record', values)] };
    }
    return {
      changes: [...codeGiven(her, given.code ?? null, circumstances), ...(await markGiven(her, given, circumstances))],
      result: { id: her.id },
    };
  },
});
