import { readPedigree } from '#domain/pedigree/files/read-pedigree.ts';
import { readGroups } from '#domain/worth/files/read-groups.ts';
import { readModel } from '#domain/worth/files/read-model.ts';
import { readRecords } from '#domain/worth/files/read-records.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

const QUEENS = `queen,dam,mated_to,drones,semen,line,area
A,,C,10,,1,
B,,C,1,,1,
C,,,,,2,
Q1,A,,,P,,
Q2,A,,,P,,
Q3,B,open,12,,,2
Q4,B,,,,,2
`;
const SEMEN = 'batch,source,share,drones\nP,Q3,0.5,5\nP,C,0.5,5\n';
const RECORDS = `queen,yard,year,honey,calm
A,1,2025,42,3.2
B,1,2025,35,2.8
Q1,1,2025,47,3.6
Q2,2,2025,30,
Q3,2,2025,28,3.0
Q4,2,2025,21,2.4
`;
/** The small evaluation of README.md under a model, from files as a breeder writes them. */
export function evaluation(model: string, records = RECORDS) {
  const queens = { name: 'QUEENS.csv', bytes: bytes(QUEENS) };
  const { pedigree } = readPedigree(queens, { name: 'SEMEN.csv', bytes: bytes(SEMEN) });
  const read = readModel({ name: 'MODEL.json', bytes: bytes(model) });
  if (pedigree === null || read.model === null) throw new Error(JSON.stringify(read.problems));
  const found = readRecords({ name: 'RECORDS.csv', bytes: bytes(records) }, pedigree.stock, read.model);
  if (found.records === null) throw new Error(JSON.stringify(found.problems));
  const { groups } = readGroups(queens, pedigree, read.model);
  return { pedigree, records: found.records, model: read.model, groups };
}
