import { describe, expect, it } from 'vitest';
import type { PedigreeFacts } from '../pedigree/facts.ts';
import { assumptionsOf, layPedigreeOf } from '../pedigree/pedigree.ts';
import { assumptionsBehind } from './behind.ts';
import { descentOf } from './descent.ts';
import { droneSideOf, indexPedigree, mothersIn } from './drone-side.ts';

const facts: PedigreeFacts = {
  queens: [
    { id: 'q', code: '27-014', dam: 'd' },
    { id: 'd', code: '25-003', dam: 'g', pool: 'sd' },
    { id: 'g', code: '23-001', pool: 'sg' },
    { id: 'm', code: 'M', dam: 'mm' },
    { id: 'mm', code: 'MM' },
    { id: 'n', code: 'N' },
    { id: 'x', code: 'X', pool: 'sx' },
  ],
  pools: [
    {
      id: 'sd',
      name: 'semen of 25-003',
      sources: [
        { pool: 'b', share: 1, draws: null },
        { open: true, share: 1, drones: 5 },
      ],
    },
    {
      id: 'b',
      name: 'C-07',
      sources: [
        { queen: 'm', share: 1, drones: 3 },
        { queen: 'n', share: 3, drones: 9 },
      ],
    },
    {
      id: 'sg',
      name: 'semen of 23-001',
      oneOf: true,
      sources: [
        { queen: 'n', share: 7, drones: 8 },
        { queen: 'm', share: 3, drones: 8 },
      ],
    },
    { id: 'sx', name: 'semen of X', sources: [{ open: true, share: 1, drones: 12 }] },
  ],
};
const index = indexPedigree(facts);

describe('a descent', () => {
  it('has the drone side as a group and its mothers one generation further back', () => {
    const { dam, drones } = descentOf('q', index, 4);
    expect(dam?.name).toBe('25-003');
    expect(drones?.mothers?.map(({ name, share }) => [name, share])).toEqual([
      ['N', 0.375],
      ['M', 0.125],
    ]);
    expect(drones?.mothers?.[1]?.dam?.name).toBe('MM');
    expect(dam?.drones?.side.oneOf).toBe(true);
  });

  it('ends open where nothing is written, and says nothing at all beyond the last generation', () => {
    const { dam, drones } = descentOf('g', index, 2);
    expect(dam).toBeNull();
    expect(drones).toBeNull();
    const last = descentOf('q', index, 2).dam;
    expect(last).toEqual({ queen: 'd', name: '25-003', sisters: 1, share: null });
  });

  it('opens batches and adds up what one mother gave in several parts', () => {
    const side = droneSideOf('sd', index);
    expect(side?.parts.map(({ from, share }) => [from, share])).toEqual([
      ['batch', 0.5],
      ['open', 0.5],
    ]);
    expect(side && mothersIn(side).map(({ name }) => name)).toEqual(['N', 'M']);
    expect(droneSideOf(null, index)).toBeNull();
  });

  it('tells of all assumptions only those behind the queens asked about', () => {
    const laid = layPedigreeOf(facts);
    if (laid.pedigree === null) throw new Error('no pedigree');
    const all = assumptionsOf(laid.pedigree);
    const codes = (queen: string) => assumptionsBehind([queen], index, all).map(({ code }) => code);
    expect(codes('q').sort()).toEqual(['one-of', 'open-mated', 'open-source']);
    expect(codes('x')).toEqual(['open-source']);
    expect(codes('n')).toEqual([]);
  });
});
