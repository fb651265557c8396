import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { codesInBook, codesTwice, discsTwice } from './check-codes.ts';
import type { Answers, ImportChoices } from './choices.ts';
import { type CodeColumn, namesMatter, readCodeColumn } from './code-column.ts';
import type { DraftRow } from './draft-row.ts';
import { findLoops } from './find-loops.ts';
import { type LaidOutSheet, layOut } from './lay-out.ts';
import { type Linked, linkRows } from './link-rows.ts';
import { dayMeanings, type Meaning } from './meaning.ts';
import { nameCodes } from './name-codes.ts';
import type { BookFacts, ImportPlan } from './plan.ts';
import { type OrderProof, orderProof, provenOrder } from './read-day.ts';
import { type RowContext, readRow } from './read-row.ts';
import type { Rehearsal, RehearsalCounts, RehearsalQuestion, Rehearsed } from './rehearsal.ts';
import { acceptable, type RowProblem } from './row-problem.ts';
import { cellText, type RawTable, type TableRow } from './table.ts';

/** What a rehearsal is made from. `strict`: a mother without a row is refused (plain tables of the command line). */
export type RehearseOptions = { choices: ImportChoices; book: BookFacts; today: Day; strict?: boolean };

/** Rows shown as they stand in the file. */
const FIRST_ROWS = 20;

const noProof: OrderProof = { dayFirst: 0, monthFirst: 0, either: 0 };
const added = (a: OrderProof, b: OrderProof): OrderProof => ({
  dayFirst: a.dayFirst + b.dayFirst,
  monthFirst: a.monthFirst + b.monthFirst,
  either: a.either + b.either,
});

/** The order of figures in the sheet's days: as said, as proven by the days themselves, or still to be asked. */
function dayOrder(
  sheet: LaidOutSheet,
  answers: Answers,
  today: Day,
): { order: RowContext['order']; questions: RehearsalQuestion[] } {
  const days = sheet.columns.filter(({ meaning }) => dayMeanings.has(meaning));
  const cellsOf = (column: number) => sheet.rows.map(({ cells }) => cells[column]);
  const proof = days.map(({ index }) => orderProof(cellsOf(index), today)).reduce(added, noProof);
  const proven = provenOrder(proof);
  if (proven !== null || proof.dayFirst + proof.monthFirst + proof.either === 0)
    return { order: answers.dayOrder ?? proven, questions: [] };
  const isEither = (text: string) => orderProof([text], today).either > 0;
  const example = days.flatMap(({ index }) => cellsOf(index).map(cellText)).find(isEither) ?? '';
  const needed = answers.dayOrder === undefined;
  return { order: answers.dayOrder ?? null, questions: [{ id: 'day-order', needed, proof, example }] };
}

/** The sheet with its code column read: repaired codes stand in the rows, what was behind a mark in a column of its own. */
function withCodes(sheet: LaidOutSheet, { choices, today }: RehearseOptions) {
  const columnOf = new Map<Meaning, number>();
  for (const { meaning, index } of sheet.columns) if (!columnOf.has(meaning)) columnOf.set(meaning, index);
  const at = columnOf.get('code');
  if (at === undefined) return { rows: sheet.rows, columnOf, code: null, extraNotes: [] as number[] };
  const { split } = sheet.columns[at] ?? { split: null };
  const code = readCodeColumn(sheet.rows, at, { answers: choices.answers ?? {}, split, today });
  const width = sheet.headings.length;
  const rows = sheet.rows.map(({ number, cells }, i): TableRow => {
    const behind = code.behind[i] ?? null;
    const changed = cells.map((cell, c) => (c === at ? (code.codes[i] ?? '') : cell));
    if (behind === null) return { number, cells: changed };
    while (changed.length < width) changed.push('');
    return { number, cells: [...changed, behind] };
  });
  const second = code.second;
  const isFree = second !== null && second !== 'note' && !columnOf.has(second);
  if (isFree) columnOf.set(second, width);
  return { rows, columnOf, code, extraNotes: second !== null && !isFree ? [width] : [] };
}

const joined = (texts: readonly string[]): string => texts.join('\t').trimEnd();

function readRows(
  sheet: LaidOutSheet,
  rows: readonly TableRow[],
  context: RowContext,
  fixes: NonNullable<ImportChoices['fixes']>,
) {
  const drafts: DraftRow[] = [];
  const problems: RowProblem[] = [];
  const headingText = joined(sheet.headings);
  for (const { number, cells } of rows) {
    // A heading repeated on every printed page is no queen.
    if (sheet.headings.length > 1 && joined(cells.map(cellText)) === headingText) continue;
    const asNote = new Set(fixes[number]?.note ?? []);
    const read = readRow(context, { row: number, cells, asNote });
    drafts.push(read.draft);
    problems.push(...read.problems);
  }
  return { drafts, problems };
}

function namesQuestion(
  sheet: LaidOutSheet,
  code: CodeColumn | null,
  drafts: readonly DraftRow[],
  { choices, today }: RehearseOptions,
): RehearsalQuestion[] {
  if (code === null) return [];
  const column = sheet.columns.find(({ meaning }) => meaning === 'code');
  const living = drafts.filter(({ fate }) => fate === null);
  const { matters, twice } = namesMatter(
    column?.heading ?? '',
    living.map((draft) => draft.code),
    living.map(({ year }) => year),
    today,
  );
  if (!matters) return [];
  const needed = choices.answers?.codeNames === undefined;
  return [{ id: 'code-names', needed, twice, example: code.codes.find((text) => text !== '') ?? '' }];
}

function dronesQuestions(drafts: readonly DraftRow[], answers: Answers, groups: number): RehearsalQuestion[] {
  const named = drafts.filter(({ mating }) => mating?.is === 'named');
  const [first] = named;
  if (first === undefined) return [];
  const example = first.mating?.is === 'named' ? (first.mating.parts[0]?.code ?? '') : '';
  const asked: RehearsalQuestion[] = [
    { id: 'drones-name', needed: answers.dronesName === undefined, rows: named.length, example },
  ];
  if (answers.dronesName === 'her-mother') asked.push({ id: 'sisters-each', needed: false, groups });
  return asked;
}

function linkQuestions({ unknown }: Linked, drafts: readonly DraftRow[], strict: boolean): RehearsalQuestion[] {
  const [example] = unknown.keys();
  const open = drafts.filter(({ fate, living }) => fate === null && !living).length;
  return [
    ...(example === undefined || strict
      ? []
      : [{ id: 'unknown-mothers' as const, needed: false, codes: unknown.size, example }]),
    ...(open === 0 ? [] : [{ id: 'seen-on' as const, needed: false, queens: open }]),
  ];
}

function loopProblems(linked: Linked, damColumn: number | null): RowProblem[] {
  const byKey = new Map(linked.queens.map((queen) => [queen.key, queen]));
  return findLoops(linked).flatMap(({ key, keys }) => {
    const names = keys.flatMap((each) => byKey.get(each)?.code ?? []).join(' ← ');
    const at = byKey.get(key)?.draft ?? keys.map((each) => byKey.get(each)?.draft).find((draft) => draft != null);
    if (at == null) return [];
    const told = { row: at.row, column: damColumn, found: at.dam ?? at.code, values: { loop: names } };
    return [{ ...told, code: 'row-loop' as const, weight: 'must' as const, suggestions: [] }];
  });
}

/** Problems as the person has settled them: what was accepted stays only as something said. */
const settled = (
  problems: readonly RowProblem[],
  { choices: { fixes = {} }, strict = false }: RehearseOptions,
): RowProblem[] =>
  problems
    .map((problem) => {
      const isAccepted = acceptable.has(problem.code) && fixes[problem.row]?.accept?.includes(problem.code);
      // A plain table is taken at its word: whether a day is still to come is a matter of this machine's clock.
      const isOfClock = strict && problem.code === 'row-day-ahead';
      return isAccepted || isOfClock ? { ...problem, weight: 'said' as const } : problem;
    })
    .sort((a, b) => a.row - b.row || (a.column ?? -1) - (b.column ?? -1));

const distinct = (texts: readonly (string | null)[]): number => new Set(texts.filter((text) => text !== null)).size;

function countsOf(sheet: LaidOutSheet, { queens, groups }: ImportPlan, alsoLeftOut: number): RehearsalCounts {
  const drafts = queens.flatMap(({ draft }) => (draft === null ? [] : [draft]));
  return {
    rows: sheet.rows.length + sheet.leftOut,
    queens: drafts.length,
    made: queens.length - drafts.length,
    groups: groups.length,
    lines: distinct(drafts.map(({ line }) => line)),
    yards: distinct(drafts.map(({ yard }) => yard)),
    hives: distinct(drafts.map(({ hive, yard }) => (hive === null ? null : `${yard} ${hive}`))),
    matings: queens.filter(({ mating }) => mating !== null).length,
    ended: drafts.filter(({ fate }) => fate !== null).length,
    notes: drafts.filter(({ notes }) => notes.length > 0).length,
    leftOut: sheet.leftOut + alsoLeftOut,
    titles: sheet.titles.length,
  };
}

/** Rows taken for titles, named so that a queen among them is not lost. */
const titlesOf = ({ titles }: LaidOutSheet): RowProblem[] =>
  titles.map(({ number, cells }) => ({
    row: number,
    column: null,
    code: 'row-title',
    found: cells.map(cellText).join(' ').trim(),
    values: {},
    weight: 'said',
    suggestions: [],
  }));

/** Rows longer than the header in a text: perhaps a separator inside a word has pushed everything one column on. */
function tooLong(sheet: LaidOutSheet, table: RawTable): RowProblem[] {
  if (table.readAs.form !== 'text' || sheet.headerRow === 0) return [];
  const header = table.rows.find(({ number }) => number === sheet.headerRow);
  const width = header?.cells.length ?? 0;
  return sheet.rows
    .filter(({ cells }) => cells.length > width)
    .map(({ number, cells }) => ({
      row: number,
      column: null,
      code: 'row-too-long' as const,
      found: cells.slice(width).map(cellText).join(' '),
      values: { cells: cells.length, expected: width },
      weight: 'must' as const,
      suggestions: [],
    }));
}

/** Problems told one by one: all that hold the import up, within reason, and some of each that are only said. */
const MOST_TOLD = { must: 1_000, choice: 300, said: 40 } as const;

function foremost(problems: readonly RowProblem[]): RowProblem[] {
  const told = new Map<string, number>();
  return problems.filter(({ code, weight }) => {
    const n = (told.get(`${weight} ${code}`) ?? 0) + 1;
    told.set(`${weight} ${code}`, n);
    return n <= MOST_TOLD[weight];
  });
}

const countProblems = (problems: readonly RowProblem[]): Rehearsal['problemCounts'] =>
  [...groupBy(problems, ({ code, weight }) => `${weight} ${code}`).values()].flatMap((same) =>
    same[0] === undefined ? [] : [{ code: same[0].code, weight: same[0].weight, rows: same.length }],
  );

/** First stage: every row understood by itself. */
function understand(table: RawTable, options: RehearseOptions) {
  const { choices, book, today } = options;
  const { answers = {}, fixes = {} } = choices;
  const sheet = layOut(table, choices, { today, remembered: book.remembered });
  const { order, questions } = dayOrder(sheet, answers, today);
  const { rows, columnOf, code, extraNotes } = withCodes(sheet, options);
  const codes = new Set([...(code?.codes ?? []), ...book.queens.map((queen) => queen.code)]);
  const notes = sheet.columns.filter(({ meaning }) => meaning === 'note').map(({ index }) => index);
  const context: RowContext = {
    columnOf,
    headings: sheet.headings,
    noteColumns: [...notes, ...extraNotes],
    order,
    today,
    decimalComma: table.readAs.decimalComma,
    isCode: (text) => codes.has(text),
    dronesArePlace: answers.dronesName === 'place',
  };
  const { drafts, problems } = readRows(sheet, rows, context, fixes);
  return { sheet, columnOf, code, drafts, problems, questions: [...questions, ...(code?.questions ?? [])] };
}

/** Second stage: rows named, told from the queens of the book, and linked to each other. */
function link({ columnOf, drafts: read }: ReturnType<typeof understand>, options: RehearseOptions) {
  const { choices, book, strict = false } = options;
  const { answers = {} } = choices;
  const codeColumn = columnOf.get('code') ?? null;
  const named = nameCodes(read, answers.codeNames, codeColumn);
  const inBook = codesInBook(named.drafts, book, codeColumn);
  const known = new Set(inBook.map(({ row }) => row));
  const drafts = named.drafts.filter(({ row }) => !known.has(row));
  const linked = linkRows(drafts, { book, answers, columnOf, strict });
  const problems = [
    ...named.problems,
    ...inBook,
    ...(codeColumn === null ? [] : codesTwice(drafts, codeColumn)),
    ...discsTwice(drafts, columnOf.get('disc') ?? columnOf.get('colour') ?? null),
    ...linked.problems,
    ...loopProblems(linked, columnOf.get('dam') ?? columnOf.get('drones') ?? null),
  ];
  const questions = [
    ...dronesQuestions(drafts, answers, linked.groups.length),
    ...linkQuestions(linked, drafts, strict),
  ];
  return { known, linked, problems, questions };
}

/**
 * The dress rehearsal of an import: reads the sheet with everything the person has said so far, asks what cannot be known, names every
 * row that does not fit, and works out what would be written. Nothing is written by it.
 */
export function rehearse(table: RawTable, options: RehearseOptions): Rehearsed {
  const understood = understand(table, options);
  const { known, linked, ...told } = link(understood, options);
  const { sheet, columnOf, code, drafts } = understood;
  const ofRows = understood.problems.filter(({ row }) => !known.has(row));
  const problems = settled([...titlesOf(sheet), ...tooLong(sheet, table), ...ofRows, ...told.problems], options);
  const questions = [...understood.questions, ...namesQuestion(sheet, code, drafts, options), ...told.questions];
  const seenOn = options.choices.answers?.seenOn ?? null;
  const plan: ImportPlan = { queens: linked.queens, groups: linked.groups, seenOn };
  const isHeld = problems.some(({ weight }) => weight === 'must') || questions.some(({ needed }) => needed);
  const rehearsal: Rehearsal = {
    readAs: table.readAs,
    headerRow: sheet.headerRow,
    columns: sheet.columns,
    firstRows: table.rows.slice(0, FIRST_ROWS).map(({ number, cells }) => ({ number, texts: cells.map(cellText) })),
    questions,
    problems: foremost(problems),
    problemCounts: countProblems(problems),
    counts: countsOf(sheet, plan, known.size),
    ready: !isHeld && columnOf.has('code') && plan.queens.length + plan.groups.length > 0,
  };
  return { rehearsal, plan };
}
