import { benchActions } from './bench/all.ts';
import { crossesActions } from './crosses/all.ts';
import { edgeActions } from './history/all.ts';
import type { Action } from './mechanism/action.ts';
import { rearingActions } from './rearing/all.ts';
import { semenActions } from './semen/all.ts';
import { stockActions } from './stock/all.ts';
import { yardActions } from './yard/all.ts';

/** Every thing a person can do. The server, the command line and the screens are built from this list. */
const everyAction = [
  ...edgeActions,
  ...stockActions,
  ...crossesActions,
  ...rearingActions,
  ...semenActions,
  ...benchActions,
  ...yardActions,
] as unknown as readonly Action[];

export const actions: ReadonlyMap<string, Action> = new Map(everyAction.map((each) => [each.name, each]));
