import { beforeEach, describe, expect, it } from 'vitest';
import { creating } from '#actions/mechanism/recording.ts';
import { computeHere } from '#compute/here.ts';
import type { Day } from '#units/calendar-day.ts';
import type { Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, newId } from '../../../tests/support/doing.ts';
import { writes } from '../../../tests/support/inseminated.ts';
import { ask } from '../mechanism/ask.ts';
import type { Question } from '../mechanism/question.ts';
import { choosing } from './choosing.ts';
import { crossBrood } from './cross-brood.ts';
import { crossGrid } from './cross-grid.ts';
import { crossLeaf } from './cross-leaf.ts';
import { crossOutlook } from './cross-outlook.ts';
import { crosses } from './crosses.ts';

const spring = { done: '2027-04-20T10:00:00.000+02:00[Europe/Berlin]' as Moment };
const today = '2027-04-20' as Day;

let fresh: Fresh;
beforeEach(async () => {
  const [sqlite] = databases;
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

async function asks<I, F, A>(question: Question<I, F, A>, input: I): Promise<Awaited<A>> {
  const answered = await ask(question, input, { store: fresh.store, compute: computeHere });
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer as Awaited<A>;
}

const queen = (code: string, more: object = {}) =>
  does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20', ...more } }, spring);

/** A dam inseminated by drones of one mother, and two of her daughters. */
async function family() {
  const drones = await queen('D');
  const dam = await queen('M', { emerged: '2024-06-01' });
  const carries = { how: 'inseminated', parts: [{ queen: drones }], on: '2024-06-10', drones: 10 };
  await does(fresh.store, 'tell-mating', { queen: dam, carries }, { ...spring, happened: true });
  const [one, two] = [await queen('S1', { dam }), await queen('S2', { dam })];
  return { drones, dam, one, two };
}

describe('the outlook of a planned cross', () => {
  it('is unrelated for strangers, and says that the dam is taken as openly mated', async () => {
    const [dam, mother] = [await queen('A'), await queen('B')];
    const outlook = await asks(crossOutlook, { dams: [dam], drone_sources: [{ queen: mother }] });
    expect(outlook.dams[0]).toMatchObject({ name: 'A', broodInbreeding: 0, relationship: 0 });
    expect(outlook.assumptions).toContainEqual({ code: 'open-mated', queen: 'A', drones: 12 });
  });

  /**
   * Daughters of the dam with drones of the dam: the daughter carries half the dam's genes, her drones' gamete a random half of
   * the dam's. Coancestry of parent and gamete = 1/4 (haplodiploid backcross; Crozier 1970, from memory), as genetics.md §1 has it.
   */
  it('is one quarter for daughters inseminated with their own dam’s drones', async () => {
    const dam = await queen('A');
    const outlook = await asks(crossOutlook, { dams: [dam], drone_sources: [{ queen: dam }] });
    expect(outlook.dams[0]?.broodInbreeding).toBeCloseTo(0.25, 12);
  });

  /**
   * Dam's daughters with drones of the dam's daughter: coancestry of two sisters. Sisters by n drones of one mother are related by
   * 0.5 + 0.25/n (genetics.md §1.2): coancestry (0.5 + 0.25/10) / 2.
   */
  it('is the coancestry of sisters for daughters inseminated with a sister’s drones', async () => {
    const { dam, one } = await family();
    const outlook = await asks(crossOutlook, { dams: [dam], drone_sources: [{ queen: one }] });
    expect(outlook.dams[0]?.broodInbreeding).toBeCloseTo((0.5 + 0.25 / 10) / 2, 12);
    expect(outlook.dams[0]?.relationship).toBeCloseTo(0.5, 12);
  });

  it('mixes drone mothers by their shares', async () => {
    const [dam, stranger] = [await queen('A'), await queen('B')];
    const mixed = [{ queen: dam, share: 0.4 }, { queen: stranger }];
    const outlook = await asks(crossOutlook, { dams: [dam], drone_sources: mixed });
    expect(outlook.dams[0]?.broodInbreeding).toBeCloseTo(0.1, 12);
  });

  it('takes a line as all its members, named among what was assumed', async () => {
    const line = await does(fresh.store, 'record-line', { name: 'Alder' });
    const dam = await queen('A');
    await queen('B', { line });
    await queen('C', { line });
    const outlook = await asks(crossOutlook, { dams: [dam], drone_sources: [{ line }] });
    expect(outlook.dams[0]?.broodInbreeding).toBe(0);
    expect(outlook.assumptions[0]).toEqual({ code: 'line-stands-in', pool: 'line', mothers: 2 });
  });
});

describe('the grid and the brood', () => {
  it('holds every pair, drone mothers down and dams across', async () => {
    const { dam, one, two } = await family();
    const stranger = await queen('X');
    const grid = await asks(crossGrid, { dams: [dam, stranger], drone_mothers: [one, two, stranger] });
    expect(
      grid.cells.map((row) => row.map(({ broodInbreeding }) => Math.round((broodInbreeding ?? 1) * 1e6) / 1e6)),
    ).toEqual([
      [0.2625, 0],
      [0.2625, 0],
      [0, 0.25],
    ]);
  });

  /** Strangers with 12 equally common alleles lose 1 brood cell in 12: viability 1 − 1/12 (Woyke's ½ a shared allele; Page and Marks 1982). */
  it('loses one in twelve between strangers, and more among kin', async () => {
    const { dam } = await family();
    const stranger = await queen('X');
    const brood = await asks(crossBrood, {
      crosses: [
        { dam, drone_sources: [{ queen: stranger }] },
        { dam, drone_sources: [{ queen: dam }] },
      ],
    });
    // Mean of 2,000 draws with 10 drones: standard error about 0.0015.
    expect(brood.crosses[0]?.viability).toBeCloseTo(1 - 1 / 12, 1.9);
    expect(brood.crosses[1]?.viability).toBeLessThan(0.85);
  });
});

const plan = (code: string, dam: RecordId, mother: RecordId, more: object = {}) =>
  does(
    fresh.store,
    'plan-cross',
    {
      cross: { code, queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12', ...more },
      dams: [dam],
      drone_sources: [{ queen: mother }],
    },
    spring,
  );

describe('crosses', () => {
  it('are listed with what is next, who lives, and how far they are', async () => {
    const [dam, mother] = [await queen('A'), await queen('B')];
    await plan('B', dam, mother);
    await plan('C', mother, dam, { inseminate_on: null });
    await does(fresh.store, 'record-fate', { queen: mother, kind: 'died', happened_on: '2027-04-19' }, spring);
    const { crosses: lines } = await asks(crosses, { today });
    expect(lines.map(({ code, stage }) => [code, stage])).toEqual([
      ['B', 'planned'],
      ['C', 'no-day'],
    ]);
    expect(lines[0]?.next).toMatchObject({ key: 'drone-comb-in', from: '2027-04-26', late: false });
    expect(lines[0]?.sides.drones[0]?.queen?.face.living).toBe('gone');
  });

  it('have a leaf with their queens and their checks', async () => {
    const [dam, mother, virgin] = [
      await queen('A'),
      await queen('B'),
      await queen('27-001', { emerged: '2027-06-04' }),
    ];
    const cross = await plan('B', dam, mother);
    const insemination = { queen: virgin, cross, done: 1, day: '2027-06-12', given_ul: 8 } as const;
    await writes(fresh.store, [creating('insemination', newId(), insemination as never)]);
    const summer = { done: '2027-07-03T10:00:00.000+02:00[Europe/Berlin]' as Moment, happened: true };
    await does(fresh.store, 'check-laying', { queen: virgin, sights: ['worker-caps'] }, summer);
    const leaf = await asks(crossLeaf, { cross, today: '2027-07-04' as Day });
    expect(leaf?.queens.map(({ face, inseminations }) => [face.code, inseminations[0]?.ul])).toEqual([['27-001', 8]]);
    expect(leaf?.queens[0]?.record.laying).toBe('yes');
    expect(leaf?.count).toEqual({ raised: 1, inseminated: 1, known: 1, laying: 1 });
    expect(leaf?.stage).toBe('inseminated');
    expect(leaf?.tasks.find(({ key }) => key === 'graft')).toMatchObject({
      from: '2027-05-23',
      fromI: -20,
      who: ['A'],
    });
  });
});

describe('choosing', () => {
  it('shows living queens only, and how they go with what is chosen', async () => {
    const { dam, one, two } = await family();
    const gone = await queen('G');
    await does(fresh.store, 'record-fate', { queen: gone, kind: 'died', happened_on: '2027-01-01' }, spring);
    const { candidates } = await asks(choosing, { today, dams: [dam], drone_mothers: [two] });
    const row = (id: string) => candidates.find(({ face }) => face.id === id);
    expect(row(gone)).toBeUndefined();
    expect(row(one)?.asDroneMother).toBeCloseTo(0.2625, 12);
    expect(row(dam)?.chosen).toBe('queen');
    expect(row(dam)?.asDam).toBeCloseTo(0.2625, 12);
    expect(row(one)?.age).toBe(1);
  });
});
