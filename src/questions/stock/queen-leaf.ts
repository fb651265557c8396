import { z } from 'zod';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { type DescentQueen, descentOf } from '#domain/stock-book/descent.ts';
import { poolBehind } from '#domain/stock-book/drone-side.ts';
import type { GatheredPedigree } from '#gather/pedigree.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Question, question } from '../mechanism/question.ts';
import { type OwnInbreeding, ownInbreeding } from './kinship.ts';
import { gatherStockRows, type StockRow, stockRowReads } from './stock-book.ts';
import { type StoryEvent, storyOf, storyReads } from './story.ts';

/** Everything the leaf of one queen shows. */
export type QueenLeaf = {
  row: StockRow;
  record: Row<'queen'>;
  /** How her story ended, if it did; a span when only its ends are known. */
  end: { kind: string; from: Day | null; to: Day | null; derived: boolean } | null;
  formerCodes: string[];
  /** Every reading of who her dam is, when that is a guess. */
  damReadings: { dam: string; weight: number | null }[];
  owner: string | null;
  keeper: string | null;
  /** To whom she is lent now. */
  lentTo: string | null;
  descent: DescentQueen;
  /** Faces of everybody named in the descent, by id. */
  faces: Record<string, QueenFace>;
  daughters: QueenFace[];
  /** Other daughters of her dam; `full` when of the same drones. */
  sisters: { face: QueenFace; full: boolean }[];
  inbreeding: OwnInbreeding;
  story: StoryEvent[];
  photos: { id: string; hash: string; takenOn: Day | null }[];
  worries: { id: string; code: string; said: string }[];
};

const input = z.strictObject({ queen: idShape, today: dayShape });
type Input = z.infer<typeof input>;
type Gathered = { leaf: Omit<QueenLeaf, 'inbreeding'>; pedigree: GatheredPedigree } | null;

const GENERATIONS = 4;

function idsIn({ queen, dam, drones }: DescentQueen): string[] {
  const behind = [...(dam ? idsIn(dam) : []), ...(drones?.mothers ?? []).flatMap(idsIn)];
  return [queen, ...behind];
}

/** The leaf of one queen; `null` when there is no such queen. */
export const queenLeaf: Question<Input, Gathered, QueenLeaf | null> = question({
  name: 'queen-leaf',
  what: 'Everything about one queen: what she is recognised by, her descent, her relations, her story, what is open.',
  input,
  reads: [...stockRowReads, ...storyReads, 'person', 'photo', 'worry'],
  async gather({ queen, today }, facts): Promise<Gathered> {
    const { rows, faced, pedigree, index } = await gatherStockRows(facts, today);
    const her = faced.find(({ row }) => row.id === queen);
    const row = rows.find(({ id }) => id === queen);
    if (her === undefined || row === undefined) return null;
    const faces = new Map(faced.map(({ face }) => [face.id, face]));
    const descent = descentOf(queen, index, GENERATIONS);
    const persons = new Map((await facts.find('person')).map(({ id, name }) => [id as string, name]));
    const person = (id: string | null) => (id === null ? null : (persons.get(id) ?? null));
    const [loan] = await facts.find('loan', { queen, back_on: null });
    const daughters = pedigree.facts.queens.filter(({ dam }) => dam === queen);
    const dam = index.queens.get(queen)?.dam ?? null;
    const sisters = dam === null ? [] : pedigree.facts.queens.filter((each) => each.dam === dam && each.id !== queen);
    const drones = poolBehind(queen, index);
    const facesOf = ({ id }: { id: string }): QueenFace[] => {
      const face = faces.get(id);
      return face === undefined ? [] : [face];
    };
    const { end } = her.state;
    const leaf: Omit<QueenLeaf, 'inbreeding'> = {
      row,
      record: her.row,
      end:
        end === null
          ? null
          : { kind: end.kind, from: end.on?.earliest ?? null, to: end.on?.latest ?? null, derived: end.derived },
      damReadings: (await facts.find('guess', { about: queen, field: 'dam' })).map(({ value, weight }) => ({
        dam: value,
        weight,
      })),
      formerCodes: (await facts.find('queen_code', { queen })).map(({ code }) => code),
      owner: person(her.row.owner),
      keeper: person(her.row.keeper),
      lentTo: loan === undefined ? null : person(loan.lent_to),
      descent,
      faces: Object.fromEntries(idsIn(descent).flatMap((id) => facesOf({ id }).map((face) => [id, face] as const))),
      daughters: daughters.flatMap(facesOf),
      sisters: sisters.flatMap((each) => {
        const face = faces.get(each.id);
        return face === undefined ? [] : [{ face, full: drones !== null && poolBehind(each.id, index) === drones }];
      }),
      story: await storyOf(facts, queen),
      photos: (await facts.find('photo', { about: queen })).map(({ id, hash, taken_on }) => ({
        id,
        hash,
        takenOn: taken_on,
      })),
      worries: (await facts.find('worry', { about: queen, settled_on: null })).map(({ id, code, said }) => ({
        id,
        code,
        said,
      })),
    };
    return { leaf, pedigree };
  },
  answer(gathered, { queen }) {
    if (gathered === null) return null;
    return { ...gathered.leaf, inbreeding: ownInbreeding(gathered.pedigree, queen) };
  },
});
