/** Rows of the bench: inbreeding and the inverse of kinship; files of over a million rows. */
import { readStock } from '#domain/pedigree/files/read-pedigree.ts';
import { fillVariances } from '#domain/pedigree/fill-variances.ts';
import { levelsOf, orderOf, rawNodes } from '#domain/pedigree/node-order.ts';
import { layPedigree } from '#domain/pedigree/pedigree.ts';
import { inverseColumns } from '#numeric/recursion/inverse-columns.ts';
import { positivePart } from '#numeric/recursion/positive-part.ts';
import { median, ratioRow, times } from './_measure.ts';
import { scipyColumns, writeBinary } from './_references.ts';
import { add, big, fail, firstOf, quick, say, thousands } from './_rows.ts';
import { simulatePedigree, simulateStock } from './_stock.ts';
import { queensTable } from './_tables.ts';

export function kinship(): void {
  const stock = simulateStock({ queens: big, mating: 'shared' });
  let last = inverseColumns(
    positivePart({
      size: 0,
      start: Int32Array.of(0),
      older: new Int32Array(0),
      weight: new Float64Array(0),
      own: new Float64Array(0),
      level: new Int32Array(0),
    }).recursion,
  );
  const lay = () => layPedigree(stock).pedigree ?? fail();
  const laying = times(1, lay);
  const pedigree = lay();
  const nodes = rawNodes(stock.columns);
  const filling = { ...pedigree, order: orderOf(nodes, levelsOf(nodes).level) };
  const inbred = times(15, () => fillVariances(filling));
  const part = positivePart(pedigree.recursion);
  const inverting = times(15, () => {
    last = inverseColumns(part.recursion);
  });
  const { recursion } = part;
  const [row, column, value]: [number[], number[], number[]] = [[], [], []];
  const triplets = { row: new Int32Array(0), column: new Int32Array(0), value: new Float64Array(0) };
  let count = 0;
  for (let i = 0; i < recursion.size; i++)
    count += (1 + (recursion.start[i + 1] as number) - (recursion.start[i] as number)) ** 2;
  triplets.row = new Int32Array(count);
  triplets.column = new Int32Array(count);
  triplets.value = new Float64Array(count);
  let at = 0;
  for (let i = 0; i < recursion.size; i++) {
    row.length = 0;
    value.length = 0;
    column.length = 0;
    const terms: [number, number][] = [[i, 1]];
    for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++)
      terms.push([recursion.older[k] as number, -(recursion.weight[k] as number)]);
    for (const [a, x] of terms) {
      for (const [b, y] of terms) {
        triplets.row[at] = a;
        triplets.column[at] = b;
        triplets.value[at++] = (x * y) / (recursion.own[i] as number);
      }
    }
  }
  const file = writeBinary('triplets.bin', [
    Int32Array.of(recursion.size, count),
    triplets.row,
    triplets.column,
    triplets.value,
  ]);
  say(
    `kinship, ${thousands(big)} queens: ${thousands(pedigree.recursion.size)} nodes; inbreeding ${median(inbred).toFixed(0)} ms, inverse ${median(inverting).toFixed(0)} ms, ${thousands(last.row.length)} entries; with checks of descent and ordering, cold, the pedigree takes ${median(laying).toFixed(0)} ms`,
  );
  add(
    ratioRow(`inbreeding and inverse, ${thousands(big)} queens`, {
      ours: median(inbred) + median(inverting),
      reference: firstOf(scipyColumns(file, 15)),
      referenceName: 'scipy, the same triplets to columns',
      must: 1.5,
      aim: 0.5,
    }),
  );
}

export function files(): void {
  const queens = quick ? 130_000 : 1_300_000;
  const pedigree = simulatePedigree({ queens, mating: 'own' });
  const text = queensTable(pedigree).queens;
  const bytes = new TextEncoder().encode(text);
  const ours = times(3, () => readStock({ name: 'QUEENS.csv', bytes }));
  const naive = times(3, () => {
    const index = new Map<string, number>();
    const lines = new TextDecoder().decode(bytes).split('\n');
    const cells = lines.slice(1, -1).map((line) => line.split(','));
    for (const [i, cell] of cells.entries()) index.set(cell[0] ?? '', i);
    const dam = new Int32Array(cells.length);
    const mother = new Int32Array(cells.length);
    for (const [i, cell] of cells.entries()) {
      dam[i] = index.get(cell[1] ?? '') ?? -1;
      mother[i] = index.get(cell[3] ?? '') ?? -1;
    }
  });
  add(
    ratioRow(`${thousands(queens)} rows (${(bytes.length / 1e6).toFixed(0)} MB) to integer pedigree`, {
      ours: median(ours),
      reference: median(naive),
      referenceName: 'split and Map',
      must: 0.5,
      aim: 0.15,
    }),
  );
}
