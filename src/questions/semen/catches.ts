import { z } from 'zod';
import { microlitresPerDrone, tally } from '#domain/semen/tally.ts';
import { gatherLedger, ledgerReads } from '#gather/ledger.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { question } from '../mechanism/question.ts';
import { gatherNames, nameOfSource, nameReads } from './source-names.ts';

/** A catch of drones summed up: how many tried, how many gave, how much each. */
export type CatchLine = {
  id: string;
  code: string | null;
  day: Day;
  mothers: readonly string[];
  gave: number | null;
  tried: number | null;
  reasons: Readonly<Record<string, number>>;
  collected: number;
  perDrone: number | null;
  tubes: readonly { id: string; code: string }[];
};

const input = z.strictObject({ newest: z.int().min(1).max(1_000).default(60) });
const reads = [...new Set<KindName>([...ledgerReads, ...nameReads, 'drone_catch_reason'])];

function reasonsOf(rows: readonly Row<'drone_catch_reason'>[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const { reason, count } of rows) counts[reason] = (counts[reason] ?? 0) + count;
  return counts;
}

async function gather({ newest }: z.infer<typeof input>, facts: Facts): Promise<CatchLine[]> {
  const ledger = await gatherLedger(facts);
  const { names } = await gatherNames(facts);
  const codes = new Map(ledger.tubes.map(({ id, code }) => [id, code]));
  const reasons = groupBy(await facts.find('drone_catch_reason'), (row) => row.catch);
  const lines = groupBy(
    ledger.lines.filter(({ step }) => step === 'collected'),
    (row) => row.catch,
  );
  const rows = (await facts.find('drone_catch')).slice(-newest).reverse();
  return rows.map((row) => {
    const filled = lines.get(row.id) ?? [];
    const collected = filled.reduce((sum, { volume_ul }) => sum + (volume_ul ?? 0), 0);
    const { tried } = tally({ taken: row.taken, leftOver: row.left_over, gave: row.gave ?? 0, reasons: {} });
    return {
      id: row.id,
      code: row.code,
      day: row.day,
      mothers: (ledger.catches.get(row.id)?.mothers ?? []).map(({ of }) => nameOfSource(of, names)),
      gave: row.gave,
      tried,
      reasons: reasonsOf(reasons.get(row.id) ?? []),
      collected,
      perDrone: microlitresPerDrone(collected, row.gave ?? 0),
      tubes: [...new Set(filled.map(({ tube }) => tube))].map((id) => ({ id, code: codes.get(id) ?? '–' })),
    };
  });
}

/** Catches of drones, the newest first: how many tried and gave, how much each, into which tubes. */
export const catches = question({
  name: 'catches',
  what: 'Catches of drones, the newest first: how many tried and gave, how much each, into which tubes.',
  input,
  reads,
  gather,
  answer: (all) => ({ catches: all }),
});
