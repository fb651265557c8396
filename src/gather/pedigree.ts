import type { Assumption } from '#domain/pedigree/assumption.ts';
import type { PedigreeFacts, QueenFact } from '#domain/pedigree/facts.ts';
import type { MatingFacts } from '#domain/semen/mating-facts.ts';
import { type DaughterFact, pedigreePools } from '#domain/semen/pedigree-pools.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { addDays, type Day, dayOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherIdentity, identityReads, type WhoWas } from './identity.ts';
import { type LaidOnce, laidOnce } from './laid-once.ts';
import { type GatheredLedger, gatherLedger, ledgerReads } from './ledger.ts';
import { gatherMatings, matingReads } from './matings.ts';

export const pedigreeReads = [
  ...ledgerReads,
  ...matingReads,
  ...identityReads,
  'queen',
  'sister_group',
  'line_founder',
  'graft_cell',
  'graft',
  'graft_range',
  'guess',
] as const satisfies readonly KindName[];

/** Days from the egg to the emerging queen (Winston 1987, The Biology of the Honey Bee). */
const EGG_TO_QUEEN = 16;

/** What a queen is called where a person reads it: her code, or her place on the bar, or the beginning of her id. */
export type NameOf = (queen: string) => string;

/** Everything kinship is worked out from, the kinship itself, and how queens are called. */
export type GatheredPedigree = LaidOnce & {
  facts: PedigreeFacts;
  nameOf: NameOf;
  ledger: GatheredLedger;
  matings: readonly MatingFacts[];
};

type Stock = {
  queens: readonly Row<'queen'>[];
  groups: readonly Row<'sister_group'>[];
  guesses: ReadonlyMap<RecordId, Row<'guess'>[]>;
  damOfCell: ReadonlyMap<RecordId, RecordId>;
  placeOf: ReadonlyMap<RecordId, string>;
  whoWas: WhoWas;
};

/** The dam of each cell follows from the range of the bar it stands in, and where it stands names a queen without a code. */
async function gatherCells(facts: Facts): Promise<Pick<Stock, 'damOfCell' | 'placeOf'>> {
  const grafts = new Map((await facts.find('graft')).map((graft) => [graft.id, graft]));
  const ranges = groupBy(await facts.find('graft_range'), ({ graft }) => graft);
  const damOfCell = new Map<RecordId, RecordId>();
  const placeOf = new Map<RecordId, string>();
  for (const { id, graft, position } of await facts.find('graft_cell')) {
    placeOf.set(id, `${grafts.get(graft)?.code ?? '?'}/${position}`);
    const range = ranges.get(graft)?.find((each) => each.position_from <= position && position <= each.position_to);
    if (range !== undefined) damOfCell.set(id, range.dam);
  }
  return { damOfCell, placeOf };
}

/** The day her egg was laid, when the day she emerged is known. */
const laidOn = ({ emerged }: Row<'queen'>): Day | null => (emerged === null ? null : addDays(emerged, -EGG_TO_QUEEN));

/** Her dam: as written, else that of her cell; and the one it really was, when two queens had changed places. */
function damOf(queen: Row<'queen'>, { damOfCell, whoWas }: Stock): RecordId | null {
  const written = queen.dam ?? (queen.cell === null ? null : (damOfCell.get(queen.cell) ?? null));
  return written === null ? null : whoWas(written, laidOn(queen));
}

function namesOf({ queens, groups, placeOf }: Stock): NameOf {
  const names = new Map<string, string>();
  for (const { id, code, cell } of queens)
    names.set(id, code ?? (cell === null ? undefined : placeOf.get(cell)) ?? id.slice(-6));
  for (const { id, code } of groups) names.set(id, code);
  return (queen) => names.get(queen) ?? queen;
}

/** What is only guessed about dams is named wherever kinship is shown. */
function damAssumptions({ queens, guesses }: Stock, nameOf: NameOf): Assumption[] {
  return queens.flatMap((queen): Assumption[] => {
    const readings = (guesses.get(queen.id) ?? []).filter(({ field }) => field === 'dam');
    if (queen.dam_sure !== 'guessed' && readings.length === 0) return [];
    const possible = readings.map(({ value, weight }) => `${nameOf(value)}${weight === null ? '' : ` (${weight})`}`);
    const text =
      possible.length === 0
        ? 'her dam is a guess'
        : `her dam is a guess, one of ${possible.join(', ')}; the first is taken`;
    return [{ code: 'taken-for-granted', about: nameOf(queen.id), text }];
  });
}

/** The day a queen was mated first; without one, the day she emerged, or the beginning of her year. */
function matedOn(queen: Row<'queen'> | undefined, mating: MatingFacts | undefined): Day | null {
  const days = [
    ...(mating?.inseminations ?? []).map(({ day }) => day),
    ...(mating?.sellersWords ?? []).map(({ day }) => day),
  ].filter((day) => day !== null);
  const year = queen?.year ?? null;
  return days.sort()[0] ?? queen?.emerged ?? (year === null ? null : dayOf(year, 1, 1));
}

/**
 * Who of a line may have given drones to a queen: its founders where they are named; else its queens who had emerged when
 * she was mated, and those of unknown age without a dam. So no queen raised from her since is taken for her mate's mother.
 */
async function lineMembers(facts: Facts, queens: readonly Row<'queen'>[], matings: readonly MatingFacts[]) {
  const founders = groupBy(await facts.find('line_founder'), ({ line }) => line as string);
  const byLine = groupBy(
    queens.filter(({ line }) => line !== null),
    ({ line }) => line as string,
  );
  const byId = new Map<string, Row<'queen'>>(queens.map((queen) => [queen.id, queen]));
  const matingOf = new Map(matings.map((mating) => [mating.queen, mating]));
  return (line: string, carrier: string | null): string[] => {
    const named = founders.get(line) ?? [];
    if (named.length > 0) return named.map(({ queen }) => queen).filter((id) => id !== carrier);
    const by = carrier === null ? null : matedOn(byId.get(carrier), matingOf.get(carrier));
    return (byLine.get(line) ?? [])
      .filter(
        ({ id, emerged, dam }) => id !== carrier && (emerged === null || by === null ? dam === null : emerged < by),
      )
      .map(({ id }) => id);
  };
}

/**
 * The whole stock with everything that says what each queen carries, as facts of `domain/pedigree`. It lasts: read again and laid again from what was laid
 * before when an act has touched one of its kinds, handed on as it is otherwise.
 */
export const gatherPedigree = (facts: Facts): Promise<GatheredPedigree> =>
  facts.lasting<GatheredPedigree>('pedigree', pedigreeReads, async (before) => {
    const read = await readPedigree(facts);
    return { ...read, ...laidOnce(read.facts, before) };
  });

async function readPedigree(facts: Facts): Promise<Omit<GatheredPedigree, keyof LaidOnce>> {
  const ledger = await gatherLedger(facts);
  const matings = await gatherMatings(facts);
  const stock: Stock = {
    queens: await facts.find('queen'),
    groups: await facts.find('sister_group'),
    guesses: groupBy(await facts.find('guess', { about_kind: 'queen' }), ({ about }) => about),
    ...(await gatherCells(facts)),
    whoWas: await gatherIdentity(facts),
  };
  const nameOf = namesOf(stock);
  const membersOfLine = await lineMembers(facts, stock.queens, matings);
  const daughters = stock.queens.map((queen): DaughterFact => ({ ...queen, dam: damOf(queen, stock) }));
  const tubeOfLine = new Map<string, string>(ledger.lines.map(({ id, tube }) => [id, tube]));
  const codeOfTube = new Map<string, string>(ledger.tubes.map(({ id, code }) => [id, code]));
  const pools = pedigreePools(matings, daughters, {
    story: ledger.story,
    catches: ledger.catches,
    queenName: nameOf,
    batchName: (batch) => codeOfTube.get(tubeOfLine.get(batch) ?? batch) ?? batch,
    membersOfLine,
  });
  const queens = daughters.map(
    ({ id, dam }): QueenFact => ({
      id,
      code: nameOf(id),
      dam,
      pool: pools.carried.get(id) ?? null,
      fromPool: pools.from.get(id) ?? null,
    }),
  );
  const groups = stock.groups.map(
    ({ id, code, dam, size }): QueenFact => ({ id, code, dam, sisters: Math.max(1, size) }),
  );
  const assumptions = [...pools.assumptions, ...damAssumptions(stock, nameOf)];
  return { facts: { queens: [...queens, ...groups], pools: pools.pools, assumptions }, nameOf, ledger, matings };
}
