import { importStock } from './import-stock.ts';

/** What brings a breeder's own tables into the book. */
export const importActions = [importStock];
