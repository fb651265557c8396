import type { PoolAssumption } from './gamete-pools.ts';

const short = (value: string | number | undefined): string =>
  typeof value === 'number' ? String(Number(value.toPrecision(3))) : String(value ?? '');

/** One English sentence for what was taken for granted about a pool, as printed beside kinship on the command line. */
export function sayPoolAssumption({ code, values }: PoolAssumption): string {
  switch (code) {
    case 'doses-mixed-by-semen':
      return `${short(values.doses)} doses taken as mixed by µl of semen in each; guessed, the later ones add less`;
    case 'dose-not-read':
      return `the volume of a dose was not read; taken as ${short(values.semen)} µl of semen`;
    case 'dose-overdrawn':
      return `a dose took ${short(values.by)} µl more than tube ${short(values.tube)} held; taken as more of what came out last`;
    case 'drones-guessed-from-count':
      return `drones of tube ${short(values.tube)} were not measured one by one; effective drones taken as count ÷ 1.36`;
    case 'drones-not-said':
      return `no number of drones is written; taken as ${short(values.drones)} effective drones`;
    case 'mixing-assumed':
      return `tube ${short(values.tube)} was ${short(values.mixing)}; read as ${short(values.taken)}`;
    case 'natural-mating-suspected':
      return `a suspected mating flight is given ${short(values.share)} of the sperm`;
    case 'natural-mating-share-not-said':
      return `no part of the sperm is written for a mating flight; taken as ${short(values.share)}`;
    case 'sellers-word':
      return 'what she was inseminated with is the word of the seller';
  }
}
