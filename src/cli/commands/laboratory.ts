import { backOutCount } from '#domain/laboratory/back-out-count.ts';
import { columnLength } from '#domain/laboratory/bore.ts';
import { makeSaline, recipeNamed, recipes } from '#domain/laboratory/saline.ts';
import { spermCount } from '#domain/laboratory/sperm-count.ts';
import { viability } from '#domain/laboratory/viability.ts';
import { microlitres, millimetres } from '#units/volume.ts';
import type { Command, Flag, Reply } from '../command.ts';
import type { Given } from '../given.ts';
import { type InputProblem, WrongInput } from '../wrong-input.ts';

/** What a calculation takes, and the calculation. */
type Calculation = { flags: readonly string[]; optional?: readonly string[]; run(given: Given): Reply };

const remedy = 'see combwright laboratory --help';
const wrong = (problem: Omit<InputProblem, 'remedy'>): never => {
  throw new WrongInput([{ ...problem, remedy }]);
};

const UNITS: Readonly<Record<string, number>> = { ul: 1, µl: 1, μl: 1, ml: 1000, l: 1_000_000 };

/** A volume above zero in µl; a bare number is in the unit told. */
function volume(text: string, unit: 'µl' | 'ml'): number {
  const read = /^(\d+(?:\.\d+)?|\.\d+)\s*(µl|μl|ul|ml|l)?$/i.exec(text.trim());
  const inMicrolitres = Number(read?.[1]) * (UNITS[(read?.[2] ?? unit).toLowerCase()] ?? Number.NaN);
  if (inMicrolitres > 0) return inMicrolitres;
  const expected = `a volume above 0, such as ${unit === 'ml' ? '100ml' : '8'}`;
  return wrong({ column: '--volume', found: `"${text}"`, expected });
}

/** A number that must be at least (or more than) something. */
function atLeast(given: Given, flag: string, limit: { least: number; orEqual: boolean }): number {
  const value = given.number(flag);
  if (value > limit.least || (limit.orEqual && value === limit.least)) return value;
  const expected = limit.orEqual ? `${limit.least} or more` : `more than ${limit.least}`;
  return wrong({ column: `--${flag}`, found: String(value), expected });
}

const above = { least: 0, orEqual: false };

/** The JSON document as one table, its keys as rows. */
const asTable = (json: Readonly<Record<string, number | string | null>>, title: string): Reply => ({
  json,
  tables: [{ title, columns: ['what', 'value'], rows: Object.entries(json) }],
});

const calculations: Readonly<Record<string, Calculation>> = {
  count: {
    flags: ['counted', 'counted-volume', 'suspension'],
    optional: ['dilution'],
    run: (given) =>
      asTable(
        spermCount({
          counted: given.number('counted'),
          countedVolume: atLeast(given, 'counted-volume', above),
          suspension: atLeast(given, 'suspension', above),
          dilution: given.has('dilution') ? atLeast(given, 'dilution', { least: 1, orEqual: true }) : 1,
        }),
        'sperm in the sample, 95 % intervals of the count alone',
      ),
  },
  raw: {
    flags: ['total', 'counted-volume', 'suspension'],
    optional: ['dilution'],
    run: (given) => {
      const { count, whole } = backOutCount(given.number('total'), {
        countedVolume: atLeast(given, 'counted-volume', above),
        suspension: atLeast(given, 'suspension', above),
        dilution: given.has('dilution') ? atLeast(given, 'dilution', { least: 1, orEqual: true }) : 1,
      });
      const rows = [
        ['count', count],
        ['a whole number', whole ? 'yes' : 'no'],
      ] as const;
      return {
        json: { count, whole },
        tables: [{ title: 'the count behind a total', columns: ['what', 'value'], rows }],
      };
    },
  },
  viability: {
    flags: ['live', 'dead'],
    run: (given) => asTable(viability(given.number('live'), given.number('dead')), 'alive, Wilson 95 % interval'),
  },
  column: {
    flags: ['bore', 'volume'],
    run: (given) => {
      const bore = millimetres(atLeast(given, 'bore', above));
      const lengthMm = columnLength(bore, microlitres(volume(given.text('volume'), 'µl')));
      return asTable({ lengthMm }, 'length of the column in mm');
    },
  },
  saline: { flags: ['volume', 'recipe'], run: saline },
};

function saline(given: Given): Reply {
  const name = given.text('recipe');
  const recipe = recipeNamed(name);
  const known = recipes.map((one) => one.name).join(', ');
  if (recipe === null) return wrong({ column: '--recipe', found: `"${name}"`, expected: `one of ${known}` });
  const made = makeSaline(recipe, volume(given.text('volume'), 'ml') / 1000);
  const rows = made.components.map((one) => [one.name, one.formula, one.grams, one.millimolar]);
  const table = { title: `${made.recipe}, ${made.millilitres} ml`, columns: ['substance', 'formula', 'g', 'mM'], rows };
  return { json: made, tables: [table], notes: [made.source, ...sentences] };
}

const sentences = [
  'Laboratory chemicals: gloves and goggles, acids and bases above all; local codes and the safety sheets come first.',
  'Make up to the final volume and sterile-filter. Antibiotics are no part of the recipe: they are prescription medicines in many places.',
];

const numberFlag = (what: string, takes: Flag['takes'] = 'number'): Flag => ({ takes, what });

/** Laboratory arithmetic on the command line: sperm counts, viability, column lengths, saline (contracts.md, command 9). */
export const laboratory: Command = {
  name: 'laboratory',
  summary: 'sperm counts and the counts behind totals, viability, column lengths and saline',
  positionals: [{ name: 'what', what: `one of ${Object.keys(calculations).join(', ')}` }],
  flags: {
    counted: numberFlag('count: sperm counted', 'whole'),
    'counted-volume': numberFlag('count, raw: µl they were counted in'),
    suspension: numberFlag('count, raw: µl of the whole suspension'),
    dilution: numberFlag('count: further dilution, 1 or more (1 when left out)'),
    total: numberFlag('raw: the total that was reported'),
    live: numberFlag('viability: live sperm counted', 'whole'),
    dead: numberFlag('viability: dead sperm counted', 'whole'),
    bore: numberFlag('column: inner diameter in mm'),
    volume: { takes: 'text', what: 'column: µl; saline: such as 100ml' },
    recipe: { takes: 'text', what: `saline: ${recipes.map((one) => one.name).join(', ')}` },
  },
  run: async (given) => {
    const what = given.text('what');
    const calculation = Object.hasOwn(calculations, what) ? calculations[what] : undefined;
    if (calculation === undefined) {
      return wrong({ column: 'what', found: `"${what}"`, expected: `one of ${Object.keys(calculations).join(', ')}` });
    }
    checkFlags(given, what, calculation);
    return calculation.run(given);
  },
};

/** Flags a calculation needs are there, and none of another calculation. */
function checkFlags(given: Given, what: string, { flags, optional = [] }: Calculation): void {
  const problems: InputProblem[] = [];
  for (const flag of Object.keys(laboratory.flags)) {
    const column = `--${flag}`;
    if (flags.includes(flag) && !given.has(flag)) {
      const expected = laboratory.flags[flag]?.what;
      problems.push({ column, found: 'nothing', ...(expected === undefined ? {} : { expected }), remedy });
    }
    if (given.has(flag) && !flags.includes(flag) && !optional.includes(flag)) {
      problems.push({
        column,
        found: `--${flag}`,
        expected: `the flags of laboratory ${what}: ${flags.join(', ')}`,
        remedy,
      });
    }
  }
  if (problems.length > 0) throw new WrongInput(problems);
}
