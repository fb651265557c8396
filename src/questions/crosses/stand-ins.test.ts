import { beforeEach, describe, expect, it } from 'vitest';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver, tryTo } from '../../../tests/support/doing.ts';
import { ask } from '../mechanism/ask.ts';
import { standIns } from './stand-ins.ts';

let fresh: Fresh;
beforeEach(async () => {
  const [sqlite] = databases;
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

const queen = (code: string, more: object = {}) =>
  does(fresh.store, 'record-queen', { queen: { code, emerged: '2025-06-20', ...more } });

async function sides(cross: RecordId) {
  const asked = await ask(standIns, { cross, today: '2027-04-20' as Day }, portsOver(fresh.store));
  if ('problems' in asked) throw new Error(JSON.stringify(asked.problems));
  const codes = asked.answer.map(({ side, named, wanted, suggested }) => ({
    side,
    named,
    wanted,
    codes: suggested.map(({ face }) => face.code),
  }));
  return { told: asked.answer, codes };
}

async function planned(more: object = {}) {
  const alder = await does(fresh.store, 'record-line', { name: 'Alder' });
  const dam = await queen('A-1', { line: alder });
  const mother = await queen('R-1');
  const cross = { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12' };
  const done = { done: '2027-04-01T10:00:00.000+02:00[Europe/Berlin]' } as never;
  const id = await does(
    fresh.store,
    'plan-cross',
    { cross, dams: [dam], drone_sources: [{ queen: mother }], ...more },
    done,
  );
  return { alder, dam, mother, id };
}

describe('stand-ins of a cross', () => {
  it('are three for each queen it needs; of her line first, alive, not of this year, with no part in it', async () => {
    const { alder, id } = await planned();
    const gone = await queen('A-2', { line: alder });
    await tryTo(fresh.store, 'record-fate', { queen: gone, kind: 'died', happened_on: '2026-11-01' });
    await queen('A-3', { line: alder });
    await queen('A-4', { line: alder, emerged: '2027-04-02' });
    await queen('X-1');
    expect((await sides(id)).codes).toEqual([
      { side: 'queen', named: 0, wanted: 3, codes: ['A-3'] },
      { side: 'drone', named: 0, wanted: 3, codes: ['A-3', 'X-1'] },
    ]);
  });

  it('count as named only while they are not known to be gone', async () => {
    const { alder, id } = await planned();
    const [one, two] = [await queen('A-2', { line: alder }), await queen('A-3', { line: alder })];
    const stand_ins = [one, two].map((each) => ({ queen: each, side: 'queen' }));
    await does(fresh.store, 'change-cross', { cross: id, stand_ins });
    expect((await sides(id)).codes[0]).toMatchObject({ named: 2, codes: [] });
    await tryTo(fresh.store, 'record-fate', { queen: one, kind: 'died', happened_on: '2027-03-01' });
    expect((await sides(id)).codes[0]).toMatchObject({ named: 1 });
  });

  it('come least related to the other side first: a daughter of the drone mother after a stranger', async () => {
    const { alder, mother, id } = await planned();
    await queen('A-2', { line: alder, dam: mother, emerged: '2026-06-20' });
    await queen('A-3', { line: alder });
    const [queens] = (await sides(id)).told;
    expect(queens?.suggested.map(({ face, relatedness }) => [face.code, relatedness])).toEqual([
      ['A-3', 0],
      ['A-2', 0.5],
    ]);
  });

  it('of a queen with a part elsewhere come last', async () => {
    const { alder, id } = await planned();
    const busy = await queen('A-2', { line: alder });
    await queen('A-3', { line: alder });
    const other = { code: 'C', queens_wanted: 4, dose_ul: 8 };
    await does(fresh.store, 'plan-cross', {
      cross: other,
      dams: [busy],
      drone_sources: [{ queen: await queen('R-2') }],
    });
    expect((await sides(id)).codes[0]?.codes).toEqual(['A-3', 'A-2']);
  });
});
