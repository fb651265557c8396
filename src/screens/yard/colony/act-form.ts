import type { ColonyLeaf } from '#questions/yard/colony.ts';

/** What every small form of a colony is given: the colony, and what to do when it is kept or left. */
export type ActFormProps = { leaf: ColonyLeaf; onDone: () => void };
