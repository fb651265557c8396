import { papers } from '#documents/registry.ts';
import type { Ports } from '#ports/ports.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { dayOfMoment } from '#units/moment.ts';
import { type BookWorld, dbFlag, refusedInput } from '../book-world.ts';
import type { Command } from '../command.ts';
import type { Given } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';

type Kind = { paper: string; what: string; input(given: Given, ports: Ports): object | Promise<object> };

const numbered = (what: 'cages' | 'slots'): Kind => ({
  paper: 'bench-labels',
  what: `the numbers --from to --to, for ${what === 'cages' ? 'cages' : 'slots of the rack'}`,
  input: (given) => ({ what, from: given.number('from'), to: given.number('to') }),
});

const todayOf: Kind['input'] = (given, { clock }) => ({
  today: given.optionalText('today') ?? dayOfMoment(clock.now()),
});

/** The one record of a kind with that code; without a code, every one that is still of use. */
const coded =
  (kind: 'graft' | 'drone_comb', field: 'graft' | 'comb'): Kind['input'] =>
  async (given, ports) => {
    const today = await todayOf(given, ports);
    const code = given.optionalText('code');
    if (code === undefined) return today;
    const { answer } = await ports.store.read([kind], (facts) => facts.find(kind));
    const found = answer.filter((row) => row.code === code);
    const [one] = found;
    if (one === undefined || found.length > 1)
      throw new WrongInput([
        {
          column: '--code',
          found: `"${code}"`,
          expected: `the code of one ${kind === 'graft' ? 'bar' : 'drone comb'}`,
          remedy:
            one === undefined ? 'write it as it stands in the book' : 'several bear it: leave it out and print all',
        },
      ]);
    return { ...today, [field]: one.id };
  };

/** What labels can be printed of. */
const kinds: Readonly<Record<string, Kind>> = {
  nucs: {
    paper: 'nuc-labels',
    what: 'every nuc and colony, in walking order, with its queen',
    input: async (given, ports) => ({ ...(await todayOf(given, ports)), start: given.number('start') }),
  },
  bars: {
    paper: 'bar-tags',
    what: 'tags for every bar still of use, or for the one of --code',
    input: coded('graft', 'graft'),
  },
  combs: {
    paper: 'comb-pins',
    what: 'pins for every drone comb still of use, or for the one of --code',
    input: coded('drone_comb', 'comb'),
  },
  incubator: {
    paper: 'incubator-list',
    what: 'the list on the incubator door: cells on their way, earliest first',
    input: todayOf,
  },
  cages: numbered('cages'),
  slots: numbered('slots'),
};

const named = Object.entries(kinds)
  .map(([name, { what }]) => `${name} (${what})`)
  .join(', ');

/** Draws labels as a PDF in true millimetres. Throws WrongInput for a kind there is no label of. */
export const labelsCommand: Command<BookWorld> = {
  name: 'labels',
  summary:
    'Draw labels to print: of nucs, cages and slots of the rack, of bars and drone combs, and the incubator door',
  positionals: [{ name: 'kind', what: `one of ${named}` }],
  flags: {
    out: { takes: 'file', what: 'The PDF to write', initial: 'labels.pdf' },
    from: { takes: 'whole', what: 'First number, for cages and slots', initial: '1' },
    to: { takes: 'whole', what: 'Last number, for cages and slots', initial: '24' },
    start: { takes: 'whole', what: 'First free label of a part-used sheet, for nucs', initial: '1' },
    code: { takes: 'text', what: 'Only the bar or drone comb of this code; without it, all that are still of use' },
    today: { takes: 'day', what: 'The day the sheet is for; without it, today' },
    db: dbFlag,
  },
  async run(given, world) {
    const kind = kinds[given.text('kind')];
    const paper = kind === undefined ? undefined : papers.get(kind.paper);
    if (kind === undefined || paper === undefined)
      throw new WrongInput([
        {
          column: 'kind',
          found: `"${given.text('kind')}"`,
          expected: `one of ${named}`,
          remedy: 'name a kind of label',
        },
      ]);
    const ports = await world.book(given.optionalText('db'));
    const answered = await ask(paper.question, await kind.input(given, ports), ports);
    if ('problems' in answered) throw refusedInput(answered);
    const file = given.text('out');
    const bytes = await paper.draw(answered.answer);
    await world.write(file, bytes);
    return { json: { file, bytes: bytes.length }, tables: [{ columns: ['labels'], rows: [[file]] }] };
  },
};
