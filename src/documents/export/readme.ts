/** What a person finds in an export who has nothing but a spreadsheet, twenty years from now. */
export const exportReadme = `A BREEDER'S WHOLE BOOK, IN OPEN FORM

records/*.csv   One table a kind of record, one line a record. UTF-8, comma between fields, text in
                quotation marks. The column "id" names a record; a column such as "dam" in
                queen.csv holds the id of another record. An empty field means: not known.
                Where "dam_sure" says "guessed", the dam is a guess; guess.csv lists other readings.
                Text that begins with = + - @ has one apostrophe in front, against spreadsheets
                that would run it; take it off.
records/act.csv What was done, in order (seq), by whom and when; records/change.csv holds what each
                act changed, before and after, as JSON. In the words of W3C PROV: records are
                entities, acts are activities, people and devices are agents.
bytes/*         Photos and uploaded files, named by the SHA-256 of their content.
datapackage.json, csv-metadata.json
                The columns and types of every table, for programs (Frictionless Data Package;
                W3C CSV on the Web).

Days are written YYYY-MM-DD. Times of semen and carbon dioxide carry their zone (RFC 9557).
Volumes are microlitres (1 microlitre = 1 mm3). Shares are fractions from 0 to 1.
`;
