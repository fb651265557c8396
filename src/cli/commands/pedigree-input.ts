import { type NamedBytes, readPedigree } from '#domain/pedigree/files/read-pedigree.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import type { Flag, World } from '../command.ts';
import type { Given } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';

/** `PEDIGREE` of the contract: the flags every command on a pedigree takes. */
export const pedigreeFlags: Readonly<Record<string, Flag>> = {
  queens: {
    takes: 'file',
    what: 'QUEENS.csv: queen,dam,born,mated_to,drones,semen and optionally sisters',
    needed: true,
  },
  semen: { takes: 'file', what: 'SEMEN.csv: batch,source,share,drones' },
};

/** A file under the name it was given by. */
export const readNamed = async (world: World, path: string): Promise<NamedBytes> => ({
  name: path,
  bytes: await world.read(path),
});

/** The pedigree of the files given; throws WrongInput with everything that is wrong with them. */
export const pedigreeGiven = (given: Given, world: World): Promise<Pedigree> =>
  pedigreeFrom(world, given.text('queens'), given.optionalText('semen'));

/** The pedigree of two files by their paths; throws WrongInput as {@link pedigreeGiven}. */
export async function pedigreeFrom(world: World, queensFile: string, semenFile: string | undefined): Promise<Pedigree> {
  const queens = await readNamed(world, queensFile);
  const semen = semenFile === undefined ? undefined : await readNamed(world, semenFile);
  const read = readPedigree(queens, semen);
  if (read.pedigree === null) throw new WrongInput(read.problems);
  return read.pedigree;
}
