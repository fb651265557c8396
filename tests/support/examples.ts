/**
 * Examples of docstrings, found and run. An example is code of one or more statements whose last is an expression, and after it, as a comment, what
 * that expression gives:
 *
 * ```ts
 * // @example const plan = allocate({ supply: [1], demand: [1], cost: () => 2 }); plan[0] // [1]
 * ```
 *
 * Every public name of the library is in scope (those of the file itself first). What it gives is written as a value: a number to the digits shown, a
 * list, an object of which at least those fields must be there, a text, `true`, `null`, or `throws RangeError`; words may follow after `; `.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';

/** A public function of the library and the examples its docstring gives. */
export type Documented = { file: string; name: string; line: number; examples: string[] };

const folders = ['src/numeric', 'src/domain/pedigree', 'src/domain/worth'];

/** Files of the library: what is compiled from, or to, machine code is documented where it is called. */
export const libraryFiles = (): string[] =>
  folders
    .flatMap((folder) =>
      readdirSync(folder, { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile() && /\.ts$/.test(entry.name) && !/\.(test|wasm)\.ts$/.test(entry.name))
        .map((entry) => join(entry.parentPath, entry.name)),
    )
    .filter((file) => !file.includes(join('kernels', 'assembly')))
    .sort();

/** Every function a file exports, with its examples. */
export function documentedIn(file: string): Documented[] {
  const text = readFileSync(file, 'utf8');
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  return source.statements.flatMap((statement) =>
    isExported(statement)
      ? functionsOf(statement).map((name) => ({
          file,
          name,
          line: source.getLineAndCharacterOfPosition(statement.getStart()).line + 1,
          examples: examplesOf(statement),
        }))
      : [],
  );
}

const isExported = (node: ts.Node) =>
  ts.canHaveModifiers(node) && (ts.getModifiers(node) ?? []).some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword);

function functionsOf(statement: ts.Statement): string[] {
  if (ts.isFunctionDeclaration(statement) || ts.isClassDeclaration(statement)) return [statement.name?.text ?? ''];
  if (!ts.isVariableStatement(statement)) return [];
  return statement.declarationList.declarations.flatMap(({ name, initializer }) =>
    initializer !== undefined && (ts.isArrowFunction(initializer) || ts.isFunctionExpression(initializer))
      ? [name.getText()]
      : [],
  );
}

const examplesOf = (node: ts.Node): string[] =>
  ts
    .getJSDocTags(node)
    .filter(({ tagName }) => tagName.text === 'example')
    .map(({ comment }) => (ts.getTextOfJSDocComment(comment) ?? '').trim());

/** An example taken apart: statements, the expression asked about, and what is written after it. */
export type Example = { before: string; asked: string; expected: string };

/** Takes an example apart, or says what is wrong with how it is written. */
export function takeApart(example: string): Example | string {
  const source = ts.createSourceFile('example.ts', example, ts.ScriptTarget.Latest, true);
  const last = source.statements.at(-1);
  if (last === undefined || !ts.isExpressionStatement(last)) return 'its last statement is no expression';
  const comment = example.slice(last.getEnd()).trim();
  if (!comment.startsWith('//')) return 'nothing says what it gives: end with `// value`';
  const expected = comment
    .split('\n')
    .map((line) => line.replace(/^\s*\/\//, ''))
    .join('\n')
    .trim()
    .replace(/; [\s\S]*$/, '');
  return { before: example.slice(0, last.getStart()), asked: last.expression.getText(), expected };
}

type Scope = ReadonlyMap<string, unknown>;
const AsyncFunction = (async () => {}).constructor as new (
  ...args: string[]
) => (...given: unknown[]) => Promise<unknown>;

const run = async (code: string, scope: Scope): Promise<unknown> => {
  const names = [...new Set(code.match(/[A-Za-z_$][\w$]*/g))].filter((name) => scope.has(name));
  const shadowed = new Set(
    [...code.matchAll(/\b(?:const|let|function)\s+([A-Za-z_$][\w$]*)/g)].map(([, name]) => name),
  );
  const given = names.filter((name) => !shadowed.has(name));
  return new AsyncFunction(...given, code)(...given.map((name) => scope.get(name)));
};

/** Runs an example; answers what differs from what it says, or null. */
export async function differs({ before, asked, expected }: Example, scope: Scope): Promise<string | null> {
  const throwing = /^throws (\w+)$/.exec(expected);
  let got: unknown;
  try {
    got = await run(`${before}\nreturn (${asked});`, scope);
  } catch (error) {
    const name = error instanceof Error ? error.constructor.name : String(error);
    return throwing?.[1] === name ? null : `threw ${error}`;
  }
  if (throwing !== null) return `gave ${show(got)} and threw nothing`;
  const want = await run(`return (${expected});`, scope).catch((error: unknown) => error);
  if (want instanceof Error) return `${expected} is no value (${want.message}); it gave ${show(got)}`;
  return isAsSaid(got, want, toleranceOf(expected)) ? null : `gave ${show(got)}`;
}

/** Half a unit of the last digit shown; close to the rounding of doubles where no decimals are shown or the value is worked out. */
function toleranceOf(expected: string): number {
  const decimals = [...expected.replace(/'[^']*'/g, '').matchAll(/\d\.(\d+)/g)].map(([, digits = '']) => digits.length);
  return decimals.length === 0 || expected.includes('Math.') ? 1e-9 : 0.5000001 * 10 ** -Math.max(...decimals);
}

function isAsSaid(got: unknown, want: unknown, tolerance: number): boolean {
  if (typeof want === 'number' && typeof got === 'number')
    return (
      Object.is(got, want) ||
      got === want ||
      Math.abs(got - want) <= tolerance * Math.max(1, tolerance < 1e-8 ? Math.abs(want) : 1)
    );
  if (Array.isArray(want)) {
    const list = Array.isArray(got) || ArrayBuffer.isView(got) ? Array.from(got as ArrayLike<unknown>) : null;
    return list?.length === want.length && want.every((each, i) => isAsSaid(list[i], each, tolerance));
  }
  if (want !== null && typeof want === 'object')
    return (
      got !== null &&
      typeof got === 'object' &&
      Object.entries(want).every(([key, each]) => isAsSaid((got as Record<string, unknown>)[key], each, tolerance))
    );
  return Object.is(got, want);
}

const show = (value: unknown): string =>
  JSON.stringify(value, (_, each) =>
    ArrayBuffer.isView(each) ? Array.from(each as unknown as ArrayLike<number>) : each,
  ) ?? String(value);

/** A fenced `ts` piece of a page: the line it begins on, the imports it makes and every expression it says the value of. */
export type Piece = { line: number; imports: { from: string; names: string[] }[]; examples: Example[] };

/** The pieces of a page, which are one program: the code before an expression is all that stands above it, types taken out. */
export function piecesOf(page: string): Piece[] {
  let above = '';
  return [...page.matchAll(/^```ts\n([\s\S]*?)^```$/gm)].map((found) => {
    const text = found[1] as string;
    const source = ts.createSourceFile('piece.ts', text, ts.ScriptTarget.Latest, true);
    const piece: Piece = { line: page.slice(0, found.index).split('\n').length + 1, imports: [], examples: [] };
    for (const statement of source.statements) {
      const said = /^[^\S\n]*\/\/(.*)/.exec(text.slice(statement.getEnd()))?.[1]?.trim();
      if (ts.isImportDeclaration(statement)) piece.imports.push(importOf(statement));
      else if (ts.isExpressionStatement(statement) && said !== undefined)
        piece.examples.push({ before: above, asked: statement.expression.getText(), expected: said });
      else above += `${withoutTypes(statement.getText())}\n`;
    }
    return piece;
  });
}

/** Where an import comes from and the values it names; none for one of types. */
function importOf({ importClause, moduleSpecifier }: ts.ImportDeclaration): Piece['imports'][number] {
  const bindings = importClause?.namedBindings;
  const isOfTypes = importClause?.phaseModifier === ts.SyntaxKind.TypeKeyword;
  const named = bindings !== undefined && ts.isNamedImports(bindings) && !isOfTypes ? [...bindings.elements] : [];
  return { from: (moduleSpecifier as ts.StringLiteral).text, names: named.map(({ name }) => name.text) };
}

const withoutTypes = (code: string): string =>
  ts.transpileModule(code, { compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext } })
    .outputText;
