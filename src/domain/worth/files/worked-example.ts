/** The worked evaluation ({@link ../worked-example.ts}) as files a breeder would write; the examples of this folder read them. */
import { encodeUtf8 } from '#units/utf8.ts';
import type { StockFiles } from './rank-files.ts';

const file = (name: string, text: string) => ({ name, bytes: encodeUtf8(text) });

/** Queens, semen, records and model, each as a named file. */
export const workedFiles = {
  queens: file(
    'QUEENS.csv',
    'queen,dam,mated_to,drones,semen,line\nA,,C,10,,1\nB,,C,1,,1\nC,,,,,2\nQ1,A,,,P,\nQ2,A,,,P,\nQ3,B,open,12,,\nQ4,B,,,,\n',
  ),
  semen: file('SEMEN.csv', 'batch,source,share,drones\nP,Q3,0.5,5\nP,C,0.5,5\n'),
  records: file(
    'RECORDS.csv',
    'queen,yard,year,honey\nA,1,2025,42\nB,1,2025,35\nQ1,1,2025,47\nQ2,2,2025,30\nQ3,2,2025,28\nQ4,2,2025,21\n',
  ),
  model: file(
    'MODEL.json',
    '{"traits":["honey"],"fixed":["yard:year"],"G":[[6,-2],[-2,4]],"R":[[10]],"groups":{"founders":"line","variance":1}}',
  ),
} as const satisfies StockFiles;
