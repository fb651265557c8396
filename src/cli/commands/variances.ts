import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import type { Groups } from '#domain/worth/groups.ts';
import type { Model } from '#domain/worth/model.ts';
import type { Records } from '#domain/worth/records.ts';
import { type ProfilePoint, profileOfCorrelation } from '#domain/worth/variances/profile.ts';
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
    matrix('correlations of effects', effects, answer.correlations.G),
    matrix('their standard errors', effects, answer.correlations.standardErrors.G),
    matrix('correlations of residuals', traits, answer.correlations.R),
    matrix('standard errors of these', traits, answer.correlations.standardErrors.R),
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

type Profiles = Record<string, ProfilePoint[]>;
type Profiled = {
  pedigree: Pedigree;
  records: Records;
  model: Model;
  groups: Groups | undefined;
  at: Pick<Variances, 'G' | 'R'>;
};

/** The profile of every trait on its own, climbing from the estimate. */
function profiles({ pedigree, records, model, groups, at }: Profiled): Profiles {
  const estimate = { ...model, G: Float64Array.from(at.G.flat()), R: Float64Array.from(at.R.flat()) };
  return Object.fromEntries(
    model.traits.map((trait) => [
      trait,
      profileOfCorrelation(pedigree, records, estimate, { trait, ...(groups && { groups }) }),
    ]),
  );
}

const profileTable = (profile: Profiles): Table => ({
  title: 'log-likelihood along the correlation of worker and queen effect',
  columns: ['trait', 'correlation', 'log-likelihood'],
  rows: Object.entries(profile).flatMap(([trait, points]) =>
    points.map((point) => [trait, point.correlation, point.logLikelihood]),
  ),
});

/** Variances by restricted maximum likelihood (contracts.md, command 4). */
export const variances: Command = {
  name: 'variances',
  summary: 'genetic and residual variances estimated from the records, with what they are worth',
  positionals: [],
  flags: {
    ...worthFlags,
    'at-start': { takes: 'nothing', what: "only the likelihood at the model's own G and R" },
    profile: { takes: 'nothing', what: 'also the likelihood along the correlation of worker and queen effect' },
  },
  run: async (given, world) => {
    const { pedigree, records, model, groups, doubts } = await worthGiven(given, world);
    const tell = (iteration: number, logLikelihood: number | null): undefined =>
      world.tell(`iteration ${iteration}: ${logLikelihood ?? 'on drawn values'}`) as undefined;
    const answer = given.has('at-start')
      ? likelihoodAtStart(pedigree, records, model, groups)
      : estimateVariances(pedigree, records, model, { progress: tell, ...(groups && { groups }) });
    const profile = given.has('profile') ? profiles({ pedigree, records, model, groups, at: answer }) : undefined;
    const verdict = answer.usable ? 'usable' : 'not usable: keep published variances';
    const warnings = [...doubts, ...answer.warnings.map((warning) => warning.text)];
    const notes = [answer.heritability.definition, ...warnings];
    return {
      json: { ...answer, warnings, ...(profile && { profile }) },
      tables: [...tablesOf(answer, model.traits), ...(profile === undefined ? [] : [profileTable(profile)])],
      notes: answer.converged === null ? notes : [...notes, `log-likelihood ${answer.logLikelihood}, ${verdict}`],
    };
  },
};
