import { estimateVariances, likelihoodAtStart, type Variances } from '#domain/worth/variances/variances.ts';
import type { Command, Table } from '../command.ts';
import { worthFlags, worthGiven } from './worth-input.ts';

function tablesOf(answer: Variances, traits: readonly string[]): Table[] {
  const effects = traits.flatMap((trait) => [`${trait}, worker effect`, `${trait}, queen effect`]);
  const matrix = (title: string, names: readonly string[], values: readonly (readonly (number | null)[])[]): Table => ({
    title,
    columns: ['', ...names],
    rows: values.map((row, i) => [names[i] ?? '', ...row]),
  });
  return [
    matrix('G', effects, answer.G),
    matrix('standard errors of G', effects, answer.standardErrors.G),
    matrix('R', traits, answer.R),
    matrix('standard errors of R', traits, answer.standardErrors.R),
    {
      title: 'heritability',
      columns: ['trait', 'worker', 'queen', 'total', 'correlation'],
      rows: Object.entries(answer.heritability.traits).map(([trait, h]) => [
        trait,
        h.worker,
        h.queen,
        h.total,
        h.correlation,
      ]),
    },
  ];
}

/** Variances by restricted maximum likelihood (contracts.md, command 4). */
export const variances: Command = {
  name: 'variances',
  summary: 'genetic and residual variances estimated from the records, with what they are worth',
  positionals: [],
  flags: { ...worthFlags, 'at-start': { takes: 'nothing', what: "only the likelihood at the model's own G and R" } },
  run: async (given, world) => {
    const { pedigree, records, model, groups } = await worthGiven(given, world);
    const tell = (iteration: number, logLikelihood: number): undefined =>
      world.tell(`iteration ${iteration}: ${logLikelihood}`) as undefined;
    const answer = given.has('at-start')
      ? likelihoodAtStart(pedigree, records, model, groups)
      : estimateVariances(pedigree, records, model, { progress: tell, ...(groups && { groups }) });
    const verdict = answer.usable ? 'usable' : 'not usable: keep published variances';
    const notes = [answer.heritability.definition, ...answer.warnings.map((warning) => warning.text)];
    return {
      json: { ...answer, warnings: answer.warnings.map((warning) => warning.text) },
      tables: tablesOf(answer, model.traits),
      notes: answer.converged === null ? notes : [...notes, `log-likelihood ${answer.logLikelihood}, ${verdict}`],
    };
  },
};
