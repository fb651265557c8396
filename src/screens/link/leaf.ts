/** Where the leaf of a record is. A record without a leaf of its own is shown by its history. */
const leaves: Readonly<Record<string, string>> = {
  queen: '/stock/queen/',
  line: '/stock/line/',
  sister_group: '/stock/sisters/',
  cross: '/crosses/',
  graft: '/rearing/graft/',
  drone_comb: '/rearing/comb/',
  tube: '/semen/tube/',
  bench_day: '/bench/',
  colony: '/yard/colony/',
  yard: '/yard/yard/',
};

export const leafOf = (kind: string, id: string): string => `${leaves[kind] ?? '/history/'}${id}`;
