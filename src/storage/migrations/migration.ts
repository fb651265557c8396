/** The few words in which the two databases' schemas differ. */
export type Dialect = {
  kind: 'sqlite' | 'postgres';
  /** An 8-byte number (PostgreSQL's own `real` has 4 and would change 8.55). */
  real: 'real' | 'double precision';
  bytes: 'blob' | 'bytea';
  /** What ends a table: STRICT on SQLite, so that text cannot enter a number's column. */
  end: ' strict' | '';
};

export const sqliteDialect: Dialect = { kind: 'sqlite', real: 'real', bytes: 'blob', end: ' strict' };
export const postgresDialect: Dialect = { kind: 'postgres', real: 'double precision', bytes: 'bytea', end: '' };

/** One step of the schema. Numbered, forward only, frozen once released, run on both databases. */
export type Migration = {
  number: number;
  name: string;
  statements: (dialect: Dialect) => string[];
};
