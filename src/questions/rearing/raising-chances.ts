import { z } from 'zod';
import type { RaisingChances, RaisingFacts } from '#domain/rearing/chances/raising-chances.ts';
import { crossReads, profileOf, wishOf } from '#gather/cross-plan.ts';
import { graftStateOf, lotOf } from '#gather/lots.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherRaised, raisedReads } from './gather-raised.ts';
import { serving } from './serving.ts';

const input = z.strictObject({
  cross: idShape,
  today: dayShape,
  /** How sure it is to be, 0.5 to 0.99. */
  sure: z.number().min(0.5).max(0.99),
});

type Source = Row<'cross_drone_source'>;
const sourceId = ({ queen, sister_group, line }: Source): string => queen ?? sister_group ?? line ?? '';

/** Shares of the semen; those not given take equal parts of what is left. */
function sharesOf(sources: readonly Source[]): number[] {
  const given = sources.reduce((sum, { share }) => sum + (share ?? 0), 0);
  const open = sources.filter(({ share }) => share === null).length;
  return sources.map(({ share }) => share ?? Math.max(0, 1 - given) / open);
}

/** Combs of one part of the drone side: of that mother; for a line or group, combs raised for the cross of mothers not named. */
const isOf = (source: Source, comb: Row<'drone_comb'>, named: ReadonlySet<string>): boolean =>
  source.queen === null ? comb.mother === null || !named.has(comb.mother) : comb.mother === source.queen;

async function gatherGrafts(facts: Facts, ids: readonly RecordId[], profile: RaisingFacts['profile'], today: Day) {
  const cells = groupBy(await facts.find('graft_cell', { graft: ids }), ({ graft }) => graft);
  const queens = await facts.find('queen', { cell: [...cells.values()].flat().map(({ id }) => id) });
  const ended = new Set((await facts.find('fate', { queen: queens.map(({ id }) => id) })).map(({ queen }) => queen));
  const gone = new Set(queens.flatMap(({ id, cell }) => (cell !== null && ended.has(id) ? [cell] : [])));
  const grafts = await facts.find('graft', { id: ids });
  return grafts.map((graft) => graftStateOf(graft, { cells: cells.get(graft.id) ?? [], gone }, { profile, today }));
}

/** How many to graft, hang and raise for a cross so that it suffices with the certainty asked for. `null`: no such cross, or no day yet. */
export const raisingChances: Question<z.infer<typeof input>, RaisingFacts | null, RaisingChances | null> = question({
  name: 'raising-chances',
  what: 'How many larvae to graft and drones to raise for a cross, how sure that is, and which loss costs most.',
  input,
  reads: [...crossReads, ...raisedReads, 'fate', 'queen'],
  async gather({ cross: id, today, sure }, facts) {
    const cross = await facts.get('cross', id);
    if (cross === null) return null;
    const profiles = await gatherProfiles(facts);
    const wish = wishOf(cross, profiles);
    if (wish === null) return null;
    const profile = profileOf(cross, profiles);
    const raised = await gatherRaised(facts, profile);
    const sources = await facts.find('cross_drone_source', { cross: id });
    const named = new Set(sources.flatMap(({ queen }) => queen ?? []));
    const dams = new Set<string>((await facts.find('cross_dam', { cross: id })).map(({ queen }) => queen));
    const mine = serving(wish, raised, { cross: id, dams, mothers: named });
    const combs = await facts.find('drone_comb', { id: mine.combs.map((comb) => comb.id as RecordId) });
    const shares = sharesOf(sources);
    return {
      on: wish.inseminate,
      queens: wish.queens,
      queenAge: wish.queenAge ?? profile.usual.queenAge,
      droneAge: wish.droneAge ?? profile.usual.droneAge,
      microlitresAQueen: cross.dose_ul * (cross.doses ?? 1),
      profile,
      sure,
      grafts: await gatherGrafts(
        facts,
        mine.bars.map((bar) => bar.id as RecordId),
        profile,
        today,
      ),
      mothers: sources.map((source, i) => ({
        id: sourceId(source),
        name: raised.called(sourceId(source)),
        share: shares[i] ?? 0,
        lots: combs.filter((comb) => isOf(source, comb, named)).flatMap((comb) => lotOf(comb, profile) ?? []),
      })),
    };
  },
  answer: async (facts, _, compute) =>
    facts === null || facts.queens < 1 ? null : compute.run<RaisingChances>('raising-chances', facts),
});
