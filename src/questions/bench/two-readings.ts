import type { QueenFace } from '#domain/marking/queen-face.ts';
import type { Facts, Journal } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';

/** The worry that a queen has more than one dose on a day. */
const TWICE = 'dose-twice';

/** One record of a dose: the act that made it, and what it says. */
export type DoseReading = { act: string; moment: string | null; given: number | null; tubes: readonly string[] };

/** Several doses of one queen on one day, with the open worry about them and the act that raised it. */
export type TwoReadings = { worry: string; raisedBy: string | null; face: QueenFace; readings: readonly DoseReading[] };

type Known = {
  faces: ReadonlyMap<string, QueenFace>;
  inseminations: readonly Row<'insemination'>[];
  tubesOf: (insemination: RecordId) => readonly string[];
};

const madeBy = async (record: RecordId, journal: Journal): Promise<string | null> =>
  (await journal.acts({ records: [record] }))[0]?.id ?? null;

async function readingOf(row: Row<'insemination'>, of: Known, journal: Journal): Promise<DoseReading[]> {
  const act = await madeBy(row.id, journal);
  return act === null ? [] : [{ act, moment: row.moment, given: row.given_ul, tubes: of.tubesOf(row.id) }];
}

/** The queens with more than one dose on this day whose worry stands open, with every reading to choose from. */
export async function twoReadings(of: Known, facts: Facts & Journal): Promise<TwoReadings[]> {
  const open = await facts.find('worry', { code: TWICE, settled_on: null });
  const all: TwoReadings[] = [];
  for (const { id, about } of open) {
    const face = about === null ? undefined : of.faces.get(about);
    const rows = of.inseminations.filter(({ queen, done }) => queen === about && done === 1);
    if (face === undefined || rows.length < 2) continue;
    const readings = (await Promise.all(rows.map((row) => readingOf(row, of, facts)))).flat();
    all.push({ worry: id, raisedBy: await madeBy(id, facts), face, readings });
  }
  return all;
}
