import type { LimitName } from '#domain/rearing/season/clash.ts';
import { crossOfPart } from '#domain/rearing/season/cross-part.ts';
import type { ProposedUse, SeasonProposal } from '#domain/rearing/season/season-proposal.ts';
import type { Ports } from '#ports/ports.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { type SeasonPlanPage, seasonPlan } from '#questions/rearing/season/season-plan.ts';
import { dayOfMoment } from '#units/moment.ts';
import { say, sayProblem } from '#words/say.ts';
import { type BookWorld, dbFlag, refusedInput } from '../book-world.ts';
import type { Command, Reply } from '../command.ts';
import { type InputProblem, WrongInput } from '../wrong-input.ts';

/** What is wrong with the season as it is written: no season, nothing to plan, crosses that cannot be planned. */
function inputProblems({ season, wish, crosses }: SeasonPlanPage): InputProblem[] {
  if (season === null) return [{ found: 'no season in the book', remedy: 'begin one: act begin-season' }];
  const barred = crosses.flatMap(({ code, problems }) =>
    problems.map((problem) => ({ column: problem.path, found: `cross ${code}`, remedy: sayProblem(problem) })),
  );
  if (barred.length > 0 || wish !== null) return barred;
  return [{ found: 'no cross to plan', remedy: say('season.nothing-to-plan') }];
}

type Named = { code: (name: string) => string; called: (id: string) => string };

const usesOf = (uses: readonly ProposedUse[], { code }: Named) =>
  uses.map(({ cross, on, amount }) => ({ cross: code(cross), on, amount }));

/** A proposal with codes for ids. */
function toldOf(proposal: SeasonProposal, clash: LimitName[] | null, named: Named) {
  const { code, called } = named;
  return {
    ...proposal,
    days: proposal.days.map((day) => ({
      ...day,
      crosses: day.crosses.map(({ cross, queens }) => ({ cross: code(cross), queens })),
      readiness: {
        ...day.readiness,
        links: day.readiness.links.map((link) => ({ ...link, mother: called(link.mother) })),
        weakest: day.readiness.weakest === null ? null : called(day.readiness.weakest.mother),
      },
    })),
    bars: proposal.bars.map((bar) => ({ ...bar, dam: called(bar.dam), uses: usesOf(bar.uses, named) })),
    combs: proposal.combs.map((comb) => ({ ...comb, mother: called(comb.mother), uses: usesOf(comb.uses, named) })),
    clash,
  };
}

/** A cross whose last day is too near, and what can be done instead. */
const tooNearOf = ({ crosses }: SeasonPlanPage) =>
  crosses.flatMap(({ code, instead }) => (instead === null ? [] : [{ cross: code, ...instead }]));

/** "drone eggs should have been laid 12 days ago; the earliest day is …, or these mature drones exist: …". */
function insteadWords({ cross, daysLate, earliest, mothers }: ReturnType<typeof tooNearOf>[number]): string {
  const when =
    daysLate > 0 ? say('instead.eggs-late', { ago: daysLate, earliest }) : say('instead.too-near', { earliest });
  const drones = mothers.map(({ mother, chance }) => say('instead.mother', { mother, times: Math.round(20 * chance) }));
  const there =
    drones.length === 0 ? say('instead.no-drones') : say('instead.drones-there', { mothers: drones.join(', ') });
  return `cross ${cross}: ${when} ${there}`;
}

type Told = ReturnType<typeof toldOf> & { tooNear: ReturnType<typeof tooNearOf> };

const replyOf = (told: Told): Reply => ({
  json: told,
  tables: [
    {
      title: `${told.queens} of ${told.wanted} queens, within ${(100 * told.gap).toFixed(2)} % of the best`,
      columns: ['day', 'crosses', 'chance', 'gives first'],
      rows: told.days.map(({ on, crosses, readiness }) => [
        on,
        crosses.map(({ cross, queens }) => `${cross}: ${queens}`).join(', '),
        readiness.chance.toFixed(2),
        readiness.weakest,
      ]),
    },
    {
      title: 'to raise',
      columns: ['day', 'what', 'of', 'for'],
      rows: [
        ...told.combs.map(({ day, combs, mother, uses }) => [
          day,
          `combs ${combs}`,
          mother,
          uses.map(({ cross }) => cross).join(', '),
        ]),
        ...told.bars.map(({ day, larvae, dam, uses }) => [
          day,
          `larvae ${larvae}`,
          dam,
          uses.map(({ cross }) => cross).join(', '),
        ]),
      ],
    },
  ],
  ...(told.clash === null && told.tooNear.length === 0
    ? {}
    : {
        notes: [
          ...(told.clash === null || told.clash.length === 0 ? [] : [`does not go together: ${told.clash.join(', ')}`]),
          ...told.tooNear.map(insteadWords),
        ],
      }),
});

async function proposed(page: SeasonPlanPage, { compute }: Ports, seed: number): Promise<Told> {
  const { wish, crosses, names } = page;
  const proposal = await compute.run<SeasonProposal>('season-plan', { wish, seed });
  const isShort = proposal.queens < proposal.wanted;
  const clash = isShort ? await compute.run<LimitName[] | null>('season-clash', wish) : null;
  const code = (name: string) => crosses.find(({ id }) => id === crossOfPart(name))?.code ?? name;
  return { ...toldOf(proposal, clash, { code, called: (id) => names[id] ?? id }), tooNear: tooNearOf(page) };
}

/** Proposes the days of the season: what the page proposes, as JSON or tables. Nothing is written. */
export const seasonCommand: Command<BookWorld> = {
  name: 'season',
  summary: 'Propose days, bars and combs for all crosses of the season, with a proof of how good they are',
  positionals: [],
  flags: {
    today: { takes: 'day', what: 'Nothing begins before this day; otherwise today' },
    seed: { takes: 'whole', what: 'Fixes the search', initial: '1' },
    db: dbFlag,
  },
  async run(given, world) {
    const ports = await world.book(given.optionalText('db'));
    const today = given.has('today') ? given.day('today') : dayOfMoment(ports.clock.now());
    const answered = await ask(seasonPlan, { today }, ports);
    if ('problems' in answered) throw refusedInput(answered);
    const wrong = inputProblems(answered.answer);
    if (wrong.length > 0) throw new WrongInput(wrong);
    return replyOf(await proposed(answered.answer, ports, given.number('seed')));
  },
};
