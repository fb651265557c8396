import type { Elsewhere } from '#domain/insemination/bench-board.ts';
import { tubeFit } from '#domain/insemination/tube-fit.ts';
import type { DroneSide } from '#gather/drone-sides.ts';
import type { GatheredLedger } from '#gather/ledger.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { mothersOfLayers, nameOfSource, type SourceNames } from '../semen/source-names.ts';

/** A label that may be carried past the reader: what it is, what it says, and what stands beside it on a STOP. */
export type KnownLabel = { kind: 'queen' | 'cage' | 'tube'; id: string; text: string; beside: string };

/** The queues of a day and the codes of their crosses. */
export type Queues = { rows: readonly Row<'bench_queen'>[]; codes: ReadonlyMap<string, string> };

type Tubes = { rack: readonly string[]; ledger: GatheredLedger; sides: ReadonlyMap<string, DroneSide> };

/** The other cross of the day that asks for what is in a tube, by code; null when none does. */
function crossOfTube(tube: string, cross: string, { codes }: Queues, { ledger, sides }: Tubes): string | null {
  const story = ledger.story.tubes.get(tube);
  if (story === undefined) return null;
  const other = [...sides].find(([id, side]) => id !== cross && codes.has(id) && tubeFit(story, side.fitting).fits);
  return other === undefined ? null : (codes.get(other[0]) ?? null);
}

/** In which cage each queen sits now. */
async function cagesNow(facts: Facts): Promise<Map<string, string | null>> {
  const open = await facts.find('stay', { to_earliest: null, to_latest: null });
  return new Map(open.map(({ queen, cage }) => [queen as string, cage]));
}

/** Queens and tubes that do not belong to the open cross: what a STOP names. */
export async function elsewhereOf(cross: string, queues: Queues, tubes: Tubes, facts: Facts): Promise<Elsewhere> {
  const mine = new Set(queues.rows.filter((row) => row.cross === cross).map(({ queen }) => queen as string));
  const others = new Map(queues.rows.filter((row) => row.cross !== cross).map((row) => [row.queen as string, row]));
  const caged = await cagesNow(facts);
  const gone = new Set((await facts.find('fate')).map(({ queen }) => queen as string));
  const queens = (await facts.find('queen')).filter(({ id }) => !mine.has(id) && (others.has(id) || !gone.has(id)));
  return {
    // A queen in no queue and no cage is told by her own label; only the others have to be found by something else.
    queens: queens
      .map(({ id }) => {
        const row = others.get(id);
        const of = row === undefined ? null : (queues.codes.get(row.cross) ?? null);
        return { queen: id, cage: row?.cage ?? caged.get(id) ?? null, cross: of };
      })
      .filter(({ cage, cross: of }) => cage !== null || of !== null),
    tubes: tubes.ledger.tubes
      .filter(({ id }) => !tubes.rack.includes(id))
      .map(({ id }) => ({ tube: id, cross: crossOfTube(id, cross, queues, tubes) })),
  };
}

/** Every label that can be read at the bench: cages, codes of living queens, codes and slots of tubes. */
export async function labelsOf(
  ledger: GatheredLedger,
  { names, lines }: SourceNames,
  facts: Facts,
): Promise<KnownLabel[]> {
  const gone = new Set((await facts.find('fate')).map(({ queen }) => queen as string));
  const queens = (await facts.find('queen')).filter(({ id, code }) => code !== null && !gone.has(id));
  const tubes = ledger.tubes.flatMap(({ id, code, slot }): KnownLabel[] => {
    const mothers = mothersOfLayers(ledger.story.tubes.get(id)?.layers ?? []);
    const beside = mothers.map(({ of }) => nameOfSource(of, names)).join(', ');
    const texts = slot === null ? [code] : [code, slot];
    return texts.map((text) => ({ kind: 'tube', id, text, beside }));
  });
  return [
    ...(await facts.find('cage')).map(({ id, number }): KnownLabel => ({ kind: 'cage', id, text: number, beside: '' })),
    ...queens.map(({ id, code }): KnownLabel => ({ kind: 'queen', id, text: code ?? '', beside: lines[id] ?? '' })),
    ...tubes,
  ];
}
