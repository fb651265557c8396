import { z } from 'zod';
import { inOrder, type LayingCheck } from '#domain/living/check.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { relationshipBetween } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, yearOf } from '#units/calendar-day.ts';
import { type CrossSides, type GatheredSides, gatherSides, sideReads } from '../crosses/cross-sides.ts';
import {
  gatherPlanned,
  hasQueen,
  layStock,
  type PlannedFacts,
  plannedReads,
  sourcesOf,
  USUAL_DRONES,
} from '../crosses/planned-sides.ts';
import { question } from '../mechanism/question.ts';
import { gatherYardBook, type Nuc, type YardBook, yardReads } from './yard-book.ts';

const input = z.strictObject({ today: dayShape });

/** A queen who could take her place, and how related the sides of the cross would then be. */
export type StandIn = { queen: QueenFace; related: number | null };

/** A cross that needs a queen: on which side, how related the sides are with her, and who stands in. */
export type Breaks = {
  cross: { id: string; code: string };
  side: 'queen' | 'drone';
  /** Nobody else is on that side. */
  only: boolean;
  related: number | null;
  standIns: StandIn[];
};

/** One queen of the spring check: where she stands, and what breaks without her. */
export type SpringQueen = {
  queen: QueenFace;
  /** The colony she heads, or headed last. */
  nuc: Nuc | null;
  looked: LayingCheck | null;
  breaks: Breaks[];
  /** The crosses she stands in for. */
  standsIn: { cross: string; side: 'queen' | 'drone' }[];
};
export type SpringAnswer = { today: Day; queens: SpringQueen[] };

type Gathered = { book: YardBook; sides: GatheredSides; planned: PlannedFacts; crosses: Row<'cross'>[] };

type Relating = { pedigree: Pedigree | null; planned: PlannedFacts };

/** Additive relationship of a queen side and a drone side; `null` where one of them is not in the book. */
function relatedSides(
  dams: readonly string[],
  drones: CrossSides['drones'],
  { pedigree, planned }: Relating,
): number | null {
  if (pedigree === null) return null;
  const given = drones.map(({ share, queen, group, line }) => ({
    share,
    queen: (queen?.face.id ?? null) as never,
    sister_group: (group?.id ?? null) as never,
    line: (line?.id ?? null) as never,
  }));
  const { sources } = sourcesOf(given, USUAL_DRONES, planned);
  const mothers = sources.flatMap((source) =>
    'queen' in source ? [{ queen: source.queen, share: source.share }] : [],
  );
  const known = dams.filter((dam) => hasQueen(pedigree, dam));
  if (mothers.length === 0 || known.length === 0) return null;
  return relationshipBetween(
    pedigree,
    known.map((queen) => ({ queen, share: 1 / known.length })),
    mothers,
  );
}

/** The sides of a cross with one queen exchanged for another. */
function exchanged({ dams, drones }: CrossSides, out: string, put: CrossSides['dams'][number]) {
  return {
    dams: dams.map(({ face }) => (face.id === out ? put.face.id : face.id)),
    drones: drones.map((part) => (part.queen?.face.id === out ? { ...part, queen: put } : part)),
  };
}

function breaksOf(cross: Row<'cross'>, sides: CrossSides, queen: string, relating: Relating): Breaks[] {
  const dams = sides.dams.map(({ face }) => face.id);
  const related = relatedSides(dams, sides.drones, relating);
  const asSide = (side: 'queen' | 'drone', only: boolean): Breaks => ({
    cross: { id: cross.id, code: cross.code },
    side,
    only,
    related,
    standIns: sides.standIns
      .filter((each) => each.side === side && each.face.living !== 'gone' && each.face.id !== queen)
      .map((each) => {
        const then = exchanged(sides, queen, each);
        return { queen: each.face, related: relatedSides(then.dams, then.drones, relating) };
      }),
  });
  const drones = sides.drones.filter((part) => part.queen?.face.id === queen);
  return [
    ...(dams.includes(queen) ? [asSide('queen', dams.length === 1)] : []),
    ...(drones.length > 0 ? [asSide('drone', sides.drones.length === 1)] : []),
  ];
}

/** Looks of this calendar year's spring: from January on, the last one. */
const lookedThisYear = (looks: readonly LayingCheck[], today: Day): LayingCheck | null =>
  inOrder(looks)
    .filter(({ day }) => yearOf(day) === yearOf(today) && day <= today)
    .at(-1) ?? null;

function springAnswer({ book, sides, planned, crosses }: Gathered, { today }: z.infer<typeof input>): SpringAnswer {
  const relating: Relating = { pedigree: layStock(planned), planned };
  const breaks = new Map<string, Breaks[]>();
  const standsIn = new Map<string, SpringQueen['standsIn']>();
  for (const cross of crosses) {
    const of = sides.of(cross.id);
    const named = [
      ...of.dams.map(({ face }) => face.id),
      ...of.drones.flatMap(({ queen }) => (queen === null ? [] : [queen.face.id])),
    ];
    const standing = of.standIns.map(({ face }) => face.id);
    for (const { face, side } of of.standIns)
      standsIn.set(face.id, [...(standsIn.get(face.id) ?? []), { cross: cross.code, side }]);
    for (const queen of new Set([...named, ...standing]))
      breaks.set(queen, [...(breaks.get(queen) ?? []), ...breaksOf(cross, of, queen, relating)]);
  }
  const place = new Map<string, { nuc: Nuc; n: number }>(book.nucs.map((nuc, n) => [nuc.id, { nuc, n }]));
  const headed = (queen: string) => {
    const stays = book.living.staysOf(queen).filter(({ colony, role }) => colony !== null && role === 'heads');
    return [...stays].sort((a, b) => ((a.from?.latest ?? '') < (b.from?.latest ?? '') ? -1 : 1)).at(-1)?.colony ?? '';
  };
  const rank = (queen: string) => place.get(headed(queen))?.n ?? 1e9;
  const queens = [...breaks].flatMap(([id, of]): SpringQueen[] => {
    const face = book.faces.get(id);
    if (face === undefined) return [];
    const looked = lookedThisYear(book.living.of(id).checks, today);
    return [
      { queen: face, nuc: place.get(headed(id))?.nuc ?? null, looked, breaks: of, standsIn: standsIn.get(id) ?? [] },
    ];
  });
  return {
    today,
    queens: queens.sort(
      (a, b) => rank(a.queen.id) - rank(b.queen.id) || ((a.queen.code ?? '') < (b.queen.code ?? '') ? -1 : 1),
    ),
  };
}

async function aheadOf(facts: Facts, today: Day): Promise<Row<'cross'>[]> {
  const inseminated = new Set((await facts.find('insemination', { done: 1 })).map(({ cross }) => cross));
  return (await facts.find('cross')).filter(
    (cross) => cross.cancelled !== 1 && !inseminated.has(cross.id) && (cross.inseminate_on ?? '9999') >= today,
  );
}

/** The queens the coming crosses need, in walking order, and what breaks when one is gone. */
export const springRound = question({
  name: 'spring-round',
  what: 'The queens the coming crosses need, in walking order, what breaks without each, and who stands in.',
  input,
  reads: [...yardReads, ...sideReads, ...plannedReads] as readonly KindName[],
  gather: async ({ today }, facts): Promise<Gathered> => ({
    book: await gatherYardBook(facts, today),
    sides: await gatherSides(facts, today),
    planned: await gatherPlanned(facts),
    crosses: await aheadOf(facts, today),
  }),
  answer: springAnswer,
});
