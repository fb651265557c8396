import fc from 'fast-check';
import { expect, test } from 'vitest';
import { idWithin, isRecordId, type RecordId, uuid7 } from './record-id.ts';

const bytes = (fill: number) => new Uint8Array(10).fill(fill);

test('a UUIDv7 carries its time, version 7 and the variant (RFC 9562, appendix A.6: 017F22E2-79B0-7CC3-98C4-DC0C0C07398F)', () => {
  const random = new Uint8Array([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
  expect(uuid7(0x017f22e279b0, random)).toBe('017f22e2-79b0-7cc3-98c4-dc0c0c07398f');
});

test('the records of an act have ids of their own, in the order of entry, the same every time', () => {
  const act = uuid7(1_800_000_000_000, bytes(3));
  const ids = Array.from({ length: 70_000 }, (_, n) => idWithin(act, n));
  expect(new Set(ids).size).toBe(ids.length);
  expect([...ids].sort()).toEqual(ids);
  expect(ids.every(isRecordId)).toBe(true);
  expect(idWithin(act, 69_999)).toBe(ids[69_999]);
});

test('acts of one millisecond never make the same record', () => {
  const random = fc.uint8Array({ minLength: 10, maxLength: 10 });
  fc.assert(
    fc.property(random, random, fc.nat({ max: 5_000_000 }), (a, b, n) => {
      const [one, other] = [uuid7(5, a), uuid7(5, b)] as [RecordId, RecordId];
      fc.pre(one !== other);
      return idWithin(one, n) !== idWithin(other, n);
    }),
    { seed: 1, numRuns: 2_000 },
  );
});
