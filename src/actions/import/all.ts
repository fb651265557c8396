import { importOutcomes } from './import-outcomes.ts';
import { importRecords } from './import-records.ts';
import { importSemen } from './import-semen.ts';
import { importStock } from './import-stock.ts';

/** What brings a breeder's own tables into the book. */
export const importActions = [importStock, importSemen, importRecords, importOutcomes];
