import { z } from 'zod';
import type { WorthChoices } from '#domain/worth/choices.ts';
import { correlationsOf } from '#domain/worth/variances/correlations.ts';
import type { EstimatedVariances } from '#domain/worth/variances/estimate.ts';
import type { Compute } from '#ports/compute.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { question } from '../mechanism/question.ts';

/** A stored run as a page lists it. */
export type RunLine = Omit<Row<'run'>, 'parameters'> & {
  choices: WorthChoices | null;
  /** Units of each trait in one unit of the scale it was worked out on. */
  units: Readonly<Record<string, number>>;
  personName: string | null;
};

function chosenOf(parameters: string): Pick<RunLine, 'choices' | 'units'> {
  const { choices, units } = JSON.parse(parameters) as Partial<Pick<RunLine, 'choices' | 'units'>>;
  return { choices: choices ?? null, units: units ?? {} };
}

const peopleOf = async (facts: Facts): Promise<ReadonlyMap<string, string>> =>
  new Map((await facts.find('person')).map(({ id, name }) => [id as string, name]));

/** The runs of one kind, the newest first. */
async function linesOf(facts: Facts, what: Row<'run'>['what']): Promise<RunLine[]> {
  const people = await peopleOf(facts);
  return (await facts.find('run', { what })).map((row) => lineOf(row, people)).reverse();
}

const lineOf = ({ parameters, ...row }: Row<'run'>, people: ReadonlyMap<string, string>): RunLine => ({
  ...row,
  ...chosenOf(parameters),
  personName: row.person === null ? null : (people.get(row.person) ?? null),
});

/** Stored runs of breeding values, the newest first. */
export const worthRuns = question({
  name: 'worth-runs',
  what: 'Stored runs of breeding values with their provenance, the newest first.',
  input: z.strictObject({}),
  reads: ['run', 'person'] as const,
  gather: (_, facts) => linesOf(facts, 'worth'),
  answer: (runs) => ({ runs }),
});

/** A kept estimate of variances: how it was worked out, and what came out. */
export type VarianceRun = { line: RunLine; answer: EstimatedVariances };

type KeptAnswer = { line: RunLine; answer: Uint8Array };

/** What kept bytes hold, unpacked away from whoever asks: a run of 50,000 queens is long to read. */
const unpacked = <A>(packed: readonly Uint8Array[], compute: Compute): Promise<A> =>
  compute.run<A>('kept-runs', packed);

/** An estimate as it was kept; one kept before correlations were told has them from its matrices, without errors. */
const whole = (
  kept: Omit<EstimatedVariances, 'correlations'> & { correlations?: EstimatedVariances['correlations'] },
): EstimatedVariances => ({
  ...kept,
  correlations:
    kept.correlations ??
    correlationsOf({ G: Float64Array.from(kept.G.flat()), R: Float64Array.from(kept.R.flat()) }, kept.traits.length),
});

/** Stored estimates of variances with their answers, the newest first; those whose bytes are lost are left out. */
export const varianceRuns = question({
  name: 'variance-runs',
  what: 'Stored estimates of variances: what came out, and their provenance, the newest first.',
  input: z.strictObject({}),
  reads: ['run', 'person'] as const,
  async gather(_, facts): Promise<KeptAnswer[]> {
    const found: KeptAnswer[] = [];
    for (const line of await linesOf(facts, 'variances')) {
      const kept = await facts.bytes(line.answer);
      if (kept !== null) found.push({ line, answer: kept.bytes });
    }
    return found;
  },
  async answer(runs, _, compute) {
    if (runs.length === 0) return { runs: [] };
    const packed = runs.map(({ answer }) => answer);
    const answers = await unpacked<EstimatedVariances[]>(packed, compute);
    return {
      runs: runs.map(({ line }, at): VarianceRun => ({ line, answer: whole(answers[at] as EstimatedVariances) })),
    };
  },
});
