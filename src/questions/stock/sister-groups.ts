import { z } from 'zod';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { question } from '../mechanism/question.ts';
import { faceReads, queenFaces } from './queen-faces.ts';

/** A group of sisters not recorded one by one, with those of them who are. */
export type SisterGroup = {
  id: string;
  code: string;
  size: number;
  year: number | null;
  dam: QueenFace | null;
  line: string | null;
  known: QueenFace[];
};

const input = z.strictObject({ today: dayShape });
type Gathered = { groups: Row<'sister_group'>[]; lines: Row<'line'>[]; queens: Row<'queen'>[]; faces: QueenFace[] };

/** Every sister group with its known members. */
export const sisterGroups = question({
  name: 'sister-groups',
  what: 'Groups of sister queens that are not recorded one by one, with their dam and known members.',
  input,
  reads: [...faceReads, 'sister_group'],
  gather: async ({ today }, facts: Facts): Promise<Gathered> => ({
    groups: await facts.find('sister_group'),
    lines: await facts.find('line'),
    queens: await facts.find('queen'),
    faces: await queenFaces(facts, { today }),
  }),
  answer({ groups, lines, queens, faces }: Gathered): { groups: SisterGroup[] } {
    const byId = new Map(faces.map((face) => [face.id, face]));
    const member = (group: string) => queens.filter((queen) => queen.sister_group === group);
    return {
      groups: groups.map(({ id, code, size, year, dam, line }) => ({
        id,
        code,
        size,
        year,
        dam: dam === null ? null : (byId.get(dam) ?? null),
        line: lines.find((each) => each.id === line)?.name ?? null,
        known: member(id).flatMap((queen) => byId.get(queen.id) ?? []),
      })),
    };
  },
});
