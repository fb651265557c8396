/** The two sex alleles of a queen in every draw; always different, or she would have been a drone that is eaten as a larva. */
export type QueenAlleles = { first: Uint16Array; second: Uint16Array };

export const noAlleles = (draws: number): QueenAlleles => ({
  first: new Uint16Array(draws),
  second: new Uint16Array(draws),
});
