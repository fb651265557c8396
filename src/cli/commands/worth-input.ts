import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { readGroups } from '#domain/worth/files/read-groups.ts';
import { readModel } from '#domain/worth/files/read-model.ts';
import { readRecords } from '#domain/worth/files/read-records.ts';
import type { Groups } from '#domain/worth/groups.ts';
import type { Model } from '#domain/worth/model.ts';
import type { Records } from '#domain/worth/records.ts';
import { sayDoubts } from '#domain/worth/say-warnings.ts';
import type { Flag, World } from '../command.ts';
import type { Given } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';
import { pedigreeFlags, pedigreeGiven, readNamed } from './pedigree-input.ts';

/** The flags every evaluation takes. */
export const worthFlags: Readonly<Record<string, Flag>> = {
  ...pedigreeFlags,
  records: { takes: 'file', what: 'RECORDS.csv: queen,yard,year and one column a trait', needed: true },
  model: { takes: 'file', what: 'MODEL.json: traits, fixed effects, G and R', needed: true },
};

/** What an evaluation is given, and sentences about what is doubtful in its files. */
export type WorthGiven = { pedigree: Pedigree; records: Records; model: Model; groups?: Groups; doubts: string[] };

/** Pedigree, records and model of the files given; throws WrongInput with everything that is wrong with them. */
export async function worthGiven(given: Given, world: World): Promise<WorthGiven> {
  const pedigree = await pedigreeGiven(given, world);
  const model = readModel(await readNamed(world, given.text('model')));
  if (model.model === null) throw new WrongInput(model.problems);
  const records = readRecords(await readNamed(world, given.text('records')), pedigree.stock, model.model);
  if (records.records === null) throw new WrongInput(records.problems);
  const { groups, problems } = readGroups(await readNamed(world, given.text('queens')), pedigree, model.model);
  if (problems.length > 0) throw new WrongInput(problems);
  const doubts = sayDoubts({ unused: model.unused, early: records.early });
  return { pedigree, records: records.records, model: model.model, doubts, ...(groups && { groups }) };
}
