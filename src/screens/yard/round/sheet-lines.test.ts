import { describe, expect, it } from 'vitest';
import type { RecordId } from '#units/record-id.ts';
import { readSheetLines } from './sheet-lines.ts';

const nucs = [1, 2, 3, 12].map((n) => ({ id: `id-${n}` as RecordId, code: `N-${String(n).padStart(2, '0')}` }));
const words = new Map([['drone-caps', 'Drone caps'] as const, ['no-eggs', 'No eggs'] as const]);
const read = (text: string) => readSheetLines(text, { nucs, words });

describe('the exceptions of a paper round', () => {
  it('reads a nuc and what was seen, with or without its dash, in any case', () => {
    expect(read('N-01 no eggs\nn02: drone caps, queen-cells\n\nN12 drone')).toEqual({
      otherwise: [
        { colony: 'id-1', sights: ['no-eggs'] },
        { colony: 'id-2', sights: ['drone-caps', 'queen-cells'] },
        { colony: 'id-12', sights: ['drone-caps'] },
      ],
      problems: [],
    });
  });
  it('never guesses a nuc or a sight; names the line', () => {
    expect(read('N-1 eggs\nN-02 honey\nN-03 queen\nN-12').problems).toEqual([
      { line: 1, code: 'unknown-nuc', found: 'N-1' },
      { line: 2, code: 'unknown-sight', found: 'honey' },
      { line: 3, code: 'unknown-sight', found: 'queen' },
      { line: 4, code: 'unknown-sight', found: '' },
    ]);
  });
  it('a nuc named twice is said', () => {
    expect(read('N-01 eggs\nN-01 no eggs').problems).toEqual([{ line: 2, code: 'twice', found: 'N-01' }]);
  });
});
