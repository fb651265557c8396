import { expect, test } from 'vitest';
import { idWithin, type RecordId } from '#units/record-id.ts';
import { rowOf } from './kind.ts';
import { isKindName, kindNames, kinds, type Row, referencesOf } from './kinds.ts';

test('every reference names a kind that exists', () => {
  for (const name of kindNames)
    for (const { to } of referencesOf(name)) expect(to === '*' || isKindName(to), `${name} → ${to}`).toBe(true);
});

test('a kind is filed under its own name', () => {
  for (const name of kindNames) expect(kinds[name].name).toBe(name);
});

test('what was not entered is not known', () => {
  const id = idWithin('0190a000-0000-7000-8000-000000000001' as RecordId, 0);
  const row: Row<'queen'> = rowOf(kinds.queen, id, { code: '26-014' });
  expect(row.code).toBe('26-014');
  expect(row.dam).toBeNull();
  expect(kinds.queen.shape.parse(row)).toEqual(row);
});

test('31 June and a negative dose are refused', () => {
  expect(kinds.queen.entry.safeParse({ emerged: '2027-06-31' }).success).toBe(false);
  expect(kinds.cross.entry.safeParse({ code: 'B', queens_wanted: 12, dose_ul: -8 }).success).toBe(false);
});
