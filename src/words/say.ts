import { setupI18n } from '@lingui/core';
import { compileMessage } from '@lingui/message-utils/compileMessage';
import type { Problem } from '#units/problem.ts';
import { english, type WordId } from './en/all.ts';

export type { WordId } from './en/all.ts';

/** Values a message may need: text and numbers. */
export type Values = Readonly<Record<string, string | number>>;

const i18n = setupI18n();
i18n.setMessagesCompiler(compileMessage);
i18n.load('en', english);
i18n.activate('en');

/** The words of `id` in the person's language, with its values put in. */
export const say = (id: WordId, values: Values = {}): string => i18n._(id, { ...values });

const isWordId = (id: string): id is WordId => Object.hasOwn(english, id);

/** The words of an id that is put together at run time; a missing one shows itself. */
export const sayAny = (id: string, values: Values = {}): string => (isWordId(id) ? say(id, values) : `[${id}]`);

/** Values that are names of ours, and the words they are said with. */
const named: Readonly<Record<string, string>> = { name: 'action', kind: 'kind', by: 'kind' };

/** Names of actions and kinds of record as a person says them. */
function spoken(values: Values): Values {
  const words = Object.entries(values).map(([field, value]) => {
    const id = `${named[field]}.${value}`;
    return [field, named[field] !== undefined && isWordId(id) ? say(id) : value] as const;
  });
  return Object.fromEntries(words);
}

/** What a problem says. */
export const sayProblem = ({ code, values }: Pick<Problem, 'code' | 'values'>): string =>
  sayAny(`problem.${code}`, spoken(values));

/** The language the words are in, as a BCP 47 tag. */
export const language = (): string => i18n.locale;
