import { z } from 'zod';
import { relationshipsWith } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { type StandInCandidate, standInsFor } from '#domain/rearing/stand-ins.ts';
import { dayShape, idShape } from '#records/field.ts';
import { yearOf } from '#units/calendar-day.ts';
import { type Question, question } from '../mechanism/question.ts';
import { type CrossSides, gatherSides, type SideQueen, sideReads } from './cross-sides.ts';
import { gatherPlanned, hasQueen, layStock, type PlannedFacts, plannedReads } from './planned-sides.ts';

const input = z.strictObject({ cross: idShape, today: dayShape });

/** Three stand-ins for each queen a cross needs: common practice. */
const WANTED_EACH = 3;
/** As related as half sisters: beyond it a stand-in comes last. */
const LIMIT = 0.25;

export type CrossSide = 'queen' | 'drone';

/** One side of a cross: how many stand-ins it should have, how many living ones are named, and who else could. */
export type SideStandIns = {
  side: CrossSide;
  wanted: number;
  /** Named and not known to be gone. */
  named: number;
  suggested: (SideQueen & { relatedness: number; used: boolean })[];
};

type Gathered = {
  sides: CrossSides;
  queens: SideQueen[];
  /** Line and dam of each queen, to stay within what the cross is meant for. */
  kin: ReadonlyMap<string, { line: string | null; dam: string | null }>;
  /** Queens with a part in another cross that is not given up. */
  used: ReadonlySet<string>;
  planned: PlannedFacts;
  /** Queens of this year have no brood to graft from or to raise drones of yet. */
  year: number;
};

const queensOf = (sides: CrossSides, side: CrossSide): SideQueen[] =>
  side === 'queen' ? sides.dams : sides.drones.flatMap(({ queen }) => queen ?? []);

/** Mean relationship of every queen with the other side, by her id. */
function relatednessWith(others: readonly SideQueen[], pedigree: Pedigree | null): (id: string) => number {
  if (pedigree === null) return () => 0;
  const rows = others
    .filter(({ face }) => hasQueen(pedigree, face.id))
    .map(({ face }) => relationshipsWith(pedigree, face.id));
  return (id) => {
    if (rows.length === 0 || !hasQueen(pedigree, id)) return 0;
    const at = pedigree.stock.names.queenIndex(id);
    return rows.reduce((sum, row) => sum + (row[at] ?? 0), 0) / rows.length;
  };
}

/** Sisters and queens of the same line stand in for what the cross is meant for; others only where there are none. */
function ofHerKind(queens: readonly SideQueen[], standing: readonly SideQueen[], kin: Gathered['kin']): SideQueen[] {
  const known = standing.flatMap(({ face }) => kin.get(face.id) ?? []);
  const lines = new Set(known.flatMap(({ line }) => line ?? []));
  const dams = new Set(known.flatMap(({ dam }) => dam ?? []));
  const near = queens.filter(({ face }) => {
    const { line = null, dam = null } = kin.get(face.id) ?? {};
    return (line !== null && lines.has(line)) || (dam !== null && dams.has(dam));
  });
  return near.length === 0 ? [...queens] : near;
}

function sideStandIns(side: CrossSide, { sides, queens, kin, used, planned, year }: Gathered): SideStandIns {
  const standing = queensOf(sides, side);
  const others = queensOf(sides, side === 'queen' ? 'drone' : 'queen');
  const named = sides.standIns.filter((each) => each.side === side);
  const living = named.filter(({ face }) => face.living !== 'gone').length;
  const wanted = WANTED_EACH * standing.length;
  const taken = new Set([...standing, ...others, ...named].map(({ face }) => face.id));
  const relatedness = relatednessWith(others, layStock(planned));
  const isGrown = ({ face }: SideQueen) => face.year === null || face.year < year;
  const free = queens.filter((each) => each.face.living !== 'gone' && isGrown(each) && !taken.has(each.face.id));
  const candidates = ofHerKind(free, standing, kin).map(
    ({ face }): StandInCandidate => ({
      queen: face.id,
      living: true,
      relatedness: relatedness(face.id),
      worth: null,
      used: used.has(face.id),
    }),
  );
  const lacking = Math.max(0, Math.min(WANTED_EACH, wanted - living));
  const found = lacking === 0 ? [] : standInsFor({ queen: '', candidates, limit: LIMIT, wanted: lacking }).standIns;
  const faces = new Map(queens.map((each) => [each.face.id as string, each]));
  return {
    side,
    wanted,
    named: living,
    suggested: found.flatMap((each) => {
      const queen = faces.get(each.queen);
      return queen === undefined ? [] : [{ ...queen, relatedness: each.relatedness, used: each.used }];
    }),
  };
}

/** Whether each queen of a cross has three who could stand in for her, and who else could: of her line, alive, least related to the other side. */
export const standIns: Question<z.infer<typeof input>, Gathered, SideStandIns[]> = question({
  name: 'stand-ins',
  what: 'Whether a cross has three living stand-ins for each queen it needs, and who else could stand in.',
  input,
  reads: [...sideReads, ...plannedReads, 'cross', 'queen'],
  async gather({ cross, today }, facts) {
    const gathered = await gatherSides(facts, today);
    const open = new Set(
      (await facts.find('cross')).filter((row) => row.cancelled !== 1 && row.id !== cross).map(({ id }) => id),
    );
    const parts = [...(await facts.find('cross_dam')), ...(await facts.find('cross_drone_source'))];
    const rows = await facts.find('queen');
    return {
      sides: gathered.of(cross),
      queens: [...gathered.queens.values()],
      kin: new Map(rows.map(({ id, line, dam }) => [id, { line, dam }])),
      used: new Set(parts.filter((part) => open.has(part.cross)).flatMap(({ queen }) => queen ?? [])),
      planned: await gatherPlanned(facts),
      year: yearOf(today),
    };
  },
  answer: (gathered) => (['queen', 'drone'] as const).map((side) => sideStandIns(side, gathered)),
});
