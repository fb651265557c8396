import type { Book, Touched } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import type { Problem } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';

/** Something that must hold of the book after every act, whatever the act was. */
export type StandingRule = {
  /** The rule in one sentence. */
  says: string;
  /** The kinds whose change can break it. */
  about: readonly KindName[];
  check(book: Book, touched: Touched): Promise<Problem[]>;
};

/** The touched ids of one kind. */
export const idsOf = (touched: Touched, kind: KindName): readonly RecordId[] =>
  touched.find((each) => each.kind === kind)?.ids ?? [];
