import type { BookTable } from '#records/book-tables.ts';

const types = { text: 'string', integer: 'integer', real: 'number', bytes: 'string' } as const;

/** Where a table stands inside an export. */
export const pathOf = ({ name }: BookTable): string => `records/${name}.csv`;

/** The description of an export as a Data Package with Table Schemas (Frictionless Data, specs.frictionlessdata.io). */
export function dataPackage(tables: readonly BookTable[], made: string): object {
  return {
    profile: 'tabular-data-package',
    name: 'combwright-book',
    title: 'A breeder’s whole book: records and the acts that made them',
    created: made,
    resources: tables.map((table) => ({
      name: table.name.replaceAll('_', '-'),
      path: pathOf(table),
      profile: 'tabular-data-resource',
      encoding: 'utf-8',
      dialect: { delimiter: ',', quoteChar: '"', doubleQuote: true, lineTerminator: '\r\n' },
      schema: {
        fields: table.columns.map(({ name, sql }) => ({ name, type: types[sql] })),
        missingValues: [''],
        ...(table.columns.some(({ name }) => name === 'id') ? { primaryKey: 'id' } : {}),
        foreignKeys: table.columns
          .filter(({ refers }) => refers !== undefined)
          .map(({ name, refers }) => ({
            fields: name,
            reference: { resource: String(refers).replaceAll('_', '-'), fields: 'id' },
          })),
      },
    })),
  };
}

/** The same for the W3C's CSV on the Web (Model for Tabular Data and Metadata, 2015). */
export function csvwMetadata(tables: readonly BookTable[]): object {
  return {
    '@context': 'http://www.w3.org/ns/csvw',
    tables: tables.map((table) => ({
      url: pathOf(table),
      tableSchema: {
        columns: table.columns.map(({ name, sql }) => ({ name, titles: name, datatype: types[sql], null: '' })),
      },
    })),
  };
}

/** The index of kept bytes inside an export: which file under `bytes/` is what. The bytes themselves are files. */
export const bytesIndex: BookTable = {
  name: 'bytes_kept',
  columns: [
    { name: 'hash', sql: 'text' },
    { name: 'form', sql: 'text' },
  ],
};

/** Where the bytes of a hash stand inside an export. */
export const bytesPath = (hash: string): string => `bytes/${hash}`;
