import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../support/databases.ts';
import { does, tryTo } from '../support/doing.ts';

for (const { name, fresh, here } of databases)
  describe.skipIf(!here)(`two people at once on ${name}`, () => {
    let on: Fresh;
    let queen: RecordId;
    beforeEach(async () => {
      on = await fresh();
      queen = await does(on.store, 'record-queen', { queen: { code: 'A', emerged: '2026-05-01' } });
    });
    afterEach(() => on.end());
    const correct = (set: object, doing: { seen?: number; device?: string }) =>
      tryTo(on.store, 'correct', { kind: 'queen', id: queen, set }, doing);

    test('a field somebody else changed since is a problem at that field, with what it says now', async () => {
      await correct({ emerged: '2026-05-03' }, { seen: 1, device: 'laptop' });
      const second = await correct({ emerged: '2026-05-09' }, { seen: 1, device: 'tablet' });
      expect(second).toMatchObject({
        problems: [{ path: 'emerged', code: 'changed-since', values: { now: '2026-05-03' } }],
      });
      expect(await correct({ emerged: '2026-05-09' }, { seen: 2, device: 'tablet' })).toMatchObject({ seq: 3 });
    });

    test('another field, or one’s own earlier change, is none', async () => {
      await correct({ emerged: '2026-05-03' }, { seen: 1, device: 'laptop' });
      expect(await correct({ code: 'A1' }, { seen: 1, device: 'tablet' })).toMatchObject({ seq: 3 });
      expect(await correct({ emerged: '2026-05-04' }, { seen: 1, device: 'laptop' })).toMatchObject({ seq: 4 });
    });
  });
