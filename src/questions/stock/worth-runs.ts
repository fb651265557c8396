import { z } from 'zod';
import type { WorthChoices } from '#domain/worth/choices.ts';
import type { Evaluation } from '#domain/worth/evaluation.ts';
import type { EvaluationInput } from '#domain/worth/evaluation-input.ts';
import type { KeptBytes } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { decodeUtf8 } from '#units/utf8.ts';
import { type Question, question } from '../mechanism/question.ts';

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
  async gather(_, facts): Promise<RunLine[]> {
    const people = new Map((await facts.find('person')).map(({ id, name }) => [id as string, name]));
    return (await facts.find('run', { what: 'worth' })).map((row) => lineOf(row, people)).reverse();
  },
  answer: (runs) => ({ runs }),
});

const input = z.strictObject({ run: idShape });

export type StoredRun = { line: RunLine; input: EvaluationInput; answer: Evaluation };
type KeptRun = { line: RunLine; input: Uint8Array; answer: Uint8Array };

async function keptOf(row: Row<'run'>, bytes: KeptBytes): Promise<[Uint8Array, Uint8Array] | null> {
  const [given, told] = [await bytes.bytes(row.input), await bytes.bytes(row.answer)];
  return given === null || told === null ? null : [given.bytes, told.bytes];
}

/** A stored run whole: what it was worked out from and what came out. `run` is null when it is not there, or its bytes are lost. */
export const worthRun: Question<z.infer<typeof input>, KeptRun | null, { run: StoredRun | null }> = question({
  name: 'worth-run',
  what: 'A stored run of breeding values: its input, its answer and its provenance.',
  input,
  reads: ['run', 'person'] as const,
  async gather({ run }, facts) {
    const row = await facts.get('run', run);
    const kept = row === null ? null : await keptOf(row, facts);
    if (row === null || kept === null) return null;
    const people = new Map((await facts.find('person')).map(({ id, name }) => [id as string, name]));
    return { line: lineOf(row, people), input: kept[0], answer: kept[1] };
  },
  answer: (kept) => ({
    run:
      kept === null
        ? null
        : {
            line: kept.line,
            input: JSON.parse(decodeUtf8(kept.input)) as EvaluationInput,
            answer: JSON.parse(decodeUtf8(kept.answer)) as Evaluation,
          },
  }),
});
