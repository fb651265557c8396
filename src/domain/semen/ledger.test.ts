import { describe, expect, test } from 'vitest';
import type { Moment } from '#units/moment.ts';
import { microlitres } from '#units/volume.ts';
import { mothersIn } from './contents.ts';
import { sourceKey } from './drone-source.ts';
import { drawnBy, readLedger } from './ledger.ts';
import { catchOf, ledgerBook, minute } from './ledger-fixtures.ts';
import type { LedgerLine, Tube } from './ledger-line.ts';
import { type LedgerStory, USUAL_ASSUMPTIONS } from './ledger-story.ts';
import type { MixingAssumption } from './origins.ts';

const catches = new Map([catchOf('m', 'M'), catchOf('n', 'N')].map((one) => [one.id, one]));
const capillary = (id: string): Tube => ({ id, form: 'capillary' });

function read(
  lines: readonly LedgerLine[],
  tubes: readonly Tube[] = [capillary('C'), capillary('D')],
  as?: MixingAssumption,
) {
  const assumptions = as === undefined ? USUAL_ASSUMPTIONS : { stirred: as, unknown: as, tubes: new Map() };
  return readLedger({ tubes, lines, catches, assumptions });
}

/** `M 0.75, N 0.25` of what a line took out. */
function mothers(story: LedgerStory, line: string): Record<string, number> {
  const pieces = drawnBy(story, line)?.pieces ?? [];
  const parts = mothersIn(pieces, { origins: story.origins, catches });
  return Object.fromEntries(parts.map((part) => [sourceKey(part.of), Number(part.share.toFixed(9))]));
}

describe('a layered tube', () => {
  test('M then N gives N-queens, then M-queens: what went in last comes out first', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 10, 10);
    book.collected('C', 'n', 10, 10);
    const [first, second, third] = [book.dose('C', 8), book.dose('C', 8), book.dose('C', 4)];
    const story = read(book.lines);
    expect(mothers(story, first)).toEqual({ 'mother:N': 1 });
    expect(mothers(story, second)).toEqual({ 'mother:M': 0.75, 'mother:N': 0.25 });
    expect(mothers(story, third)).toEqual({ 'mother:M': 1 });
    expect(drawnBy(story, first)).toMatchObject({ about: true, mixing: 'layered', assumed: null, end: 'filled' });
    expect(story.tubes.get('C')).toMatchObject({ left: 0, mixing: 'empty', layers: [] });
  });

  test('coupled at its other end the order turns', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 10, 10);
    book.collected('C', 'n', 10, 10);
    const first = book.dose('C', 8, 'other');
    expect(mothers(read(book.lines), first)).toEqual({ 'mother:M': 1 });
  });

  test('drawn over by the tip the order turns; drawn over by the back it stays', () => {
    const over = (fromEnd: 'filled' | 'other') => {
      const book = ledgerBook();
      book.collected('C', 'm', 10, 10);
      book.collected('C', 'n', 10, 10);
      book.write('D', { kind: 'drawn-over', from: 'C', fromEnd, microlitres: microlitres(20), end: 'filled' });
      const first = book.dose('D', 8);
      return mothers(read(book.lines), first);
    };
    expect(over('filled')).toEqual({ 'mother:M': 1 });
    expect(over('other')).toEqual({ 'mother:N': 1 });
  });

  test('the layers are told from the tip, neighbouring drones of one mother as one', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 6, 6);
    book.collected('C', 'm', 4, 4);
    book.collected('C', 'n', 5, 5);
    const layers = read(book.lines).tubes.get('C')?.layers ?? [];
    expect(layers.map((layer) => [layer.microlitres, layer.mothers.map((part) => sourceKey(part.of))])).toEqual([
      [5, ['mother:N']],
      [10, ['mother:M']],
    ]);
    expect(layers[1]?.mothers[0]?.drones).toBeCloseTo(10, 12);
  });

  test('a diluent plug at the tip is drawn first and counts no semen', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 10, 10);
    book.write('C', { kind: 'diluent', microlitres: microlitres(2), end: 'filled' });
    const dose = book.dose('C', 8);
    expect(drawnBy(read(book.lines), dose)).toMatchObject({ microlitres: 8, semen: 6 });
  });
});

describe('a homogenised tube', () => {
  function homogenised() {
    const book = ledgerBook();
    book.collected('C', 'm', 12, 12);
    book.collected('C', 'n', 6, 6);
    book.write('C', { kind: 'homogenised' });
    return book;
  }

  test('every dose points to the same batch with its shares by volume', () => {
    const book = homogenised();
    const [a, b] = [book.dose('C', 8), book.dose('C', 8)];
    const story = read(book.lines);
    expect(drawnBy(story, a)?.pieces.map((piece) => piece.origin)).toEqual(['batch:3']);
    expect(drawnBy(story, b)?.pieces.map((piece) => piece.origin)).toEqual(['batch:3']);
    expect(mothers(story, a)).toEqual({ 'mother:M': 0.666666667, 'mother:N': 0.333333333 });
    expect(drawnBy(story, a)).toMatchObject({ about: false, mixing: 'homogenised' });
    expect(story.tubes.get('C')).toMatchObject({ batch: 'batch:3', left: 2 });
  });

  test('a dose of it holds a little of every drone: the effective number does not shrink with the dose', () => {
    const book = homogenised();
    const dose = book.dose('C', 3);
    const story = read(book.lines);
    const parts = mothersIn(drawnBy(story, dose)?.pieces ?? [], { origins: story.origins, catches });
    expect(parts[0]?.effective).toBeCloseTo(12 / 1.36, 9);
  });

  test('only until something is added: then the new drones come first by the tip', () => {
    const book = homogenised();
    book.collected('C', 'n', 8, 8);
    const dose = book.dose('C', 8);
    const story = read(book.lines);
    expect(mothers(story, dose)).toEqual({ 'mother:N': 1 });
    expect(story.tubes.get('C')).toMatchObject({ batch: 'batch:3', mixing: 'homogenised' });
  });

  test('mixed again after adding it is another batch; diluent and mixing again leave it the same', () => {
    const book = homogenised();
    book.write('C', { kind: 'diluent', microlitres: microlitres(18), end: 'filled' });
    book.write('C', { kind: 'homogenised' });
    const thin = book.dose('C', 8);
    book.collected('C', 'n', 8, 8);
    book.write('C', { kind: 'homogenised' });
    const other = book.dose('C', 8);
    const story = read(book.lines);
    expect(drawnBy(story, thin)).toMatchObject({ semen: 4, pieces: [{ origin: 'batch:3' }] });
    expect(drawnBy(story, other)?.pieces[0]?.origin).toBe('batch:8');
    expect([...story.batches.keys()]).toEqual(['batch:3', 'batch:8']);
  });

  test('aliquots drawn into other tubes stay the same batch', () => {
    const book = homogenised();
    book.write('D', { kind: 'drawn-over', from: 'C', fromEnd: 'filled', microlitres: microlitres(9), end: 'filled' });
    const [here, there] = [book.dose('C', 8), book.dose('D', 8)];
    const story = read(book.lines);
    expect(drawnBy(story, here)?.pieces[0]?.origin).toBe(drawnBy(story, there)?.pieces[0]?.origin);
  });
});

describe('stirred and unknown semen lies between, and the assumption is said', () => {
  function stirred(as: MixingAssumption) {
    const book = ledgerBook();
    book.collected('C', 'm', 10, 10);
    book.collected('C', 'n', 10, 10);
    book.write('C', { kind: 'stirred' });
    const dose = book.dose('C', 8);
    const story = read(book.lines, [capillary('C')], as);
    return { drawn: drawnBy(story, dose), mothers: mothers(story, dose), tube: story.tubes.get('C') };
  }

  test('as stirred: the shares of the whole, but no shared batch', () => {
    const { drawn, mothers, tube } = stirred('stirred');
    expect(mothers).toEqual({ 'mother:M': 0.5, 'mother:N': 0.5 });
    expect(drawn).toMatchObject({ mixing: 'stirred', assumed: 'stirred', about: true });
    expect(tube?.batch).toBeNull();
  });

  test('as homogenised: shared by every queen', () => {
    expect(stirred('homogenised').tube?.batch).toBe('batch:3');
    expect(stirred('homogenised').drawn).toMatchObject({ mixing: 'stirred', assumed: 'homogenised' });
  });

  test('as layered: the order it was filled in', () => {
    const { drawn, mothers } = stirred('layered');
    expect(mothers).toEqual({ 'mother:N': 1 });
    expect(drawn).toMatchObject({ mixing: 'stirred', assumed: 'layered' });
  });

  test('a vial keeps no layers: what was dropped into it is unknown until it is mixed', () => {
    const book = ledgerBook();
    book.collected('V', 'm', 10, 10);
    book.collected('V', 'n', 10, 10);
    const before = book.dose('V', 4);
    book.write('V', { kind: 'homogenised' });
    const after = book.dose('V', 4);
    const story = read(book.lines, [{ id: 'V', form: 'vial' }]);
    expect(drawnBy(story, before)).toMatchObject({ mixing: 'unknown', assumed: 'stirred', about: true });
    expect(drawnBy(story, after)).toMatchObject({ mixing: 'homogenised', assumed: null, about: false });
    expect(mothers(story, before)).toEqual({ 'mother:M': 0.5, 'mother:N': 0.5 });
  });
});

describe('what happened is never refused', () => {
  test('an overdrawn tube: a negative remainder, a doubt, and the drones of what came out last', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 5, 5);
    const dose = book.dose('C', 8);
    const story = read(book.lines);
    expect(story.tubes.get('C')).toMatchObject({ left: -3, overdrawn: 3 });
    expect(story.problems).toEqual([
      { path: `lines.${dose}`, code: 'tube-overdrawn', values: { tube: 'C', by: 3 }, weight: 'doubt' },
    ]);
    expect(mothers(story, dose)).toEqual({ 'mother:M': 1 });
    expect(drawnBy(story, dose)).toMatchObject({ microlitres: 8, semen: 8, missing: 3 });
  });

  test('a dose from a tube nobody recorded filling is of unknown origin, and said', () => {
    const book = ledgerBook();
    const dose = book.dose('C', 8);
    const story = read(book.lines);
    expect(story.problems.map((problem) => problem.code)).toEqual(['tube-overdrawn', 'semen-of-unknown-origin']);
    expect(mothers(story, dose)).toEqual({ open: 1 });
  });

  test('semen collected without a reading counts about 1 µl a drone (common practice), and says so', () => {
    const book = ledgerBook();
    const told = { drones: 9, volumes: null, microlitres: null, end: 'filled' } as const;
    book.write('C', { kind: 'collected', catch: 'm', of: null, ...told });
    const story = read(book.lines);
    expect(story.tubes.get('C')?.left).toBe(9);
    expect(story.problems.map((problem) => problem.code)).toEqual(['volume-not-read']);
  });
});

describe('lines are never edited', () => {
  test('a correction stands in the place of its line, whatever was written since', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 10, 10);
    const first = book.dose('C', 8);
    book.collected('C', 'n', 10, 10);
    const act = { kind: 'dose', microlitres: microlitres(6), end: 'filled' } as const;
    const fix = book.write('C', act, { corrects: first, at: minute(2) });
    const story = read(book.lines);
    expect(story.tubes.get('C')?.left).toBe(14);
    expect(drawnBy(story, first)).toMatchObject({ microlitres: 6, line: first });
    expect(drawnBy(story, fix)).toBe(drawnBy(story, first));
  });

  test('a withdrawn line never happened; the correction of a correction counts', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 10, 10);
    const slip = book.dose('C', 8);
    const fix = book.write('C', { kind: 'withdrawn' }, { corrects: slip });
    expect(read(book.lines).tubes.get('C')?.left).toBe(10);
    book.write('C', { kind: 'dose', microlitres: microlitres(4), end: 'filled' }, { corrects: fix, at: minute(2) });
    expect(read(book.lines).tubes.get('C')?.left).toBe(6);
  });

  test('times decide, not the order of writing: a bench sheet typed in later falls into its place', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 10, 10, { at: minute(10) });
    book.dose('C', 8, 'filled', { at: minute(30) });
    book.collected('C', 'n', 10, 10, { at: minute(20) });
    expect(mothers(read(book.lines), '2')).toEqual({ 'mother:N': 1 });
  });

  test('a re-reading sets what is left, keeps what was booked beside it, and settles an overdrawn tube', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 10, 10);
    book.dose('C', 4);
    book.write('C', { kind: 're-measured', microlitres: microlitres(5) });
    expect(read(book.lines).tubes.get('C')).toMatchObject({
      left: 5,
      semen: 5,
      readings: [{ line: '3', booked: 6, read: 5 }],
    });
    book.dose('C', 8);
    book.write('C', { kind: 're-measured', microlitres: microlitres(1) });
    expect(read(book.lines).tubes.get('C')).toMatchObject({ left: 1, overdrawn: 0 });
    expect(read(book.lines).tubes.get('C')?.layers[0]?.mothers[0]?.of).toEqual({ kind: 'mother', queen: 'M' });
  });
});

test('a seal lasts until the tube is opened; frozen until thawed', () => {
  const book = ledgerBook();
  book.collected('C', 'm', 20, 20);
  book.write('C', { kind: 'sealed' });
  book.write('C', { kind: 'frozen' });
  expect(read(book.lines).tubes.get('C')).toMatchObject({ sealed: true, frozen: true });
  book.write('C', { kind: 'thawed' });
  expect(read(book.lines).tubes.get('C')).toMatchObject({ sealed: true, frozen: false });
  book.write('D', { kind: 'drawn-over', from: 'C', fromEnd: 'filled', microlitres: microlitres(8), end: 'filled' });
  expect(read(book.lines).tubes.get('C')?.sealed).toBe(false);
});

describe('received from another breeder', () => {
  const received = (mixing: 'layered' | 'stirred' | 'homogenised' | 'unknown', collectedAt: Moment | null = null) => {
    const book = ledgerBook();
    const told = {
      catch: 'm',
      microlitres: microlitres(20),
      semen: microlitres(10),
      drones: 12,
      volumes: null,
      collectedAt,
    } as const;
    book.write('C', { kind: 'received', mixing, end: 'filled', ...told });
    const dose = book.dose('C', 8);
    const story = read(book.lines);
    return { drawn: drawnBy(story, dose), tube: story.tubes.get('C') };
  };

  test('the semen in it counts, not the µl; it is mixed as the sender says', () => {
    expect(received('homogenised').drawn).toMatchObject({ semen: 4, mixing: 'homogenised', assumed: null });
    expect(received('homogenised').tube).toMatchObject({ batch: 'batch:1', diluted: true, semen: 6 });
    expect(received('unknown').drawn).toMatchObject({ mixing: 'unknown', assumed: 'stirred' });
    expect(received('layered').drawn).toMatchObject({ mixing: 'layered', assumed: null });
  });

  test('is as old as its sender says; where nothing is said, it may be older than the day it came', () => {
    const collected = '2027-05-01T12:00:00.000+02:00[Europe/Berlin]' as Moment;
    for (const mixing of ['layered', 'homogenised'] as const) {
      expect(received(mixing, collected).tube?.since).toMatchObject({ moment: collected, orEarlier: false });
      expect(received(mixing).tube?.since).toMatchObject({ orEarlier: true });
    }
    expect(received('layered', collected).drawn?.since?.moment).toBe(collected);
  });
});

describe('drones measured one by one', () => {
  test('effective drones are (Σv)²/Σv² of the very drones in the dose', () => {
    const book = ledgerBook();
    const volumes = [1.5, 0.5, 1, 1];
    const act = {
      kind: 'collected',
      catch: 'm',
      of: null,
      microlitres: microlitres(4),
      drones: 4,
      volumes,
      end: 'filled',
    };
    book.write('C', act as LedgerLine['act']);
    const dose = book.dose('C', 2.5);
    const story = read(book.lines);
    const [part] = mothersIn(drawnBy(story, dose)?.pieces ?? [], { origins: story.origins, catches });
    expect(part?.drones).toBe(3);
    expect(part?.effective).toBeCloseTo(2.5 ** 2 / (1 + 1 + 0.25), 12);
    expect(part?.guessed).toBe(false);
  });

  test('counted drones count ÷ 1.36, as a guess, and a cut layer takes its part of them', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 20, 20);
    const dose = book.dose('C', 8);
    const story = read(book.lines);
    const [part] = mothersIn(drawnBy(story, dose)?.pieces ?? [], { origins: story.origins, catches });
    expect(part?.effective).toBeCloseTo(8 / 1.36, 12);
    expect(part?.guessed).toBe(true);
  });
});

describe('odd records', () => {
  test('5: three doses by one person, two by another with another syringe: doses left right, lines with person', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 48, 48);
    for (const person of ['Ada', 'Ada', 'Ada', 'Ben', 'Ben']) book.dose('C', 8, 'filled', { person });
    expect(read(book.lines).tubes.get('C')?.left).toBe(8);
    expect(book.lines.filter((line) => line.person === 'Ben')).toHaveLength(2);
  });

  test('6: 17 of 34 µl broken off and sent away, from the end it was broken off', () => {
    const book = ledgerBook();
    book.collected('C', 'm', 17, 17);
    book.collected('C', 'n', 17, 17);
    const sent = book.write('C', { kind: 'sent', microlitres: microlitres(17), end: 'other' });
    const story = read(book.lines);
    expect(drawnBy(story, sent)).toMatchObject({ kind: 'sent', end: 'other', microlitres: 17 });
    expect(mothers(story, sent)).toEqual({ 'mother:M': 1 });
    expect(story.tubes.get('C')).toMatchObject({ left: 17 });
  });

  test('16: 60 µl + 600 µl buffer, spun, 48 µl taken, six doses of one batch; the loss is a line', () => {
    const book = ledgerBook();
    book.collected('V', 'm', 30, 30);
    book.collected('V', 'n', 30, 30);
    book.write('V', { kind: 'diluent', microlitres: microlitres(600), end: 'filled' });
    book.write('V', { kind: 'homogenised' });
    book.write('V', { kind: 'spun-off', microlitres: microlitres(600), semen: microlitres(0) });
    book.write('C', { kind: 'drawn-over', from: 'V', fromEnd: 'filled', microlitres: microlitres(48), end: 'filled' });
    const lost = book.write('V', { kind: 'lost', microlitres: null, end: null });
    const doses = Array.from({ length: 6 }, () => book.dose('C', 8));
    const story = read(book.lines, [{ id: 'V', form: 'vial' }, capillary('C')]);
    expect(doses.map((dose) => drawnBy(story, dose)?.pieces[0]?.origin)).toEqual(Array(6).fill('batch:4'));
    expect(doses.map((dose) => drawnBy(story, dose)?.semen)).toEqual(Array(6).fill(expect.closeTo(8, 9)));
    expect(drawnBy(story, lost)?.microlitres).toBeCloseTo(12, 9);
    expect(story.tubes.get('C')?.left).toBeCloseTo(0, 9);
    expect(story.problems).toEqual([]);
  });
});

describe('one pass holds for any book', () => {
  test('collected − drawn − lost = left, in µl and in semen, over a thousand lines of two tubes', () => {
    const book = ledgerBook();
    let seed = 7;
    const next = () => {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      return seed / 2147483648;
    };
    let sum = 0;
    for (let i = 0; i < 1000; i++) {
      const volume = 1 + Math.floor(next() * 8);
      if (next() < 0.5)
        book.collected(next() < 0.5 ? 'C' : 'D', next() < 0.5 ? 'm' : 'n', volume, volume, { at: minute(0) });
      else book.dose(next() < 0.5 ? 'C' : 'D', volume, next() < 0.5 ? 'filled' : 'other', { at: minute(0) });
    }
    for (const line of book.lines) {
      if (line.act.kind === 'collected') sum += line.act.microlitres ?? 0;
      if (line.act.kind === 'dose') sum -= line.act.microlitres;
    }
    const { tubes } = read(book.lines);
    expect((tubes.get('C')?.left ?? 0) + (tubes.get('D')?.left ?? 0)).toBeCloseTo(sum, 6);
  });
});
