import type { ReactNode } from 'react';
import type { Answers, CodeNames } from '#domain/stock-book/choices.ts';
import type { Meaning } from '#domain/stock-book/meaning.ts';
import type { RehearsalQuestion } from '#domain/stock-book/rehearsal.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { DayField } from '../parts/day-words.tsx';
import { ChoiceField, NumberField } from '../parts/form.tsx';

type Answering = { answers: Answers; onAnswer: (some: Partial<Answers>) => void };
type Of<I extends RehearsalQuestion['id']> = Answering & { question: Extract<RehearsalQuestion, { id: I }> };

/** No choice is made yet: no button is pressed. */
type Unset<T extends string> = T | '';

function DayOrder({ question, answers, onAnswer }: Of<'day-order'>) {
  const { either, dayFirst, monthFirst } = question.proof;
  const told =
    dayFirst + monthFirst > 0
      ? say('ask.day-order-mixed', { dayFirst, monthFirst })
      : say('ask.day-order-open', { n: either });
  return (
    <ChoiceField<Unset<'day-first' | 'month-first'>>
      label={say('ask.day-order', { example: question.example })}
      hint={told}
      value={answers.dayOrder ?? ''}
      onChange={(dayOrder) => dayOrder !== '' && onAnswer({ dayOrder })}
      choices={[
        { value: 'day-first', words: say('ask.day-first') },
        { value: 'month-first', words: say('ask.month-first') },
      ]}
    />
  );
}

function CodeNamesQuestion({ question, answers, onAnswer }: Of<'code-names'>) {
  const { codeNames } = answers;
  const value = codeNames === undefined ? '' : typeof codeNames === 'string' ? codeNames : 'until';
  const until = typeof codeNames === 'object' ? codeNames.queenUntil : null;
  const choose = (chosen: Unset<'queen' | 'hive' | 'until'>) => {
    if (chosen === '') return;
    const names: CodeNames = chosen === 'until' ? { queenUntil: until ?? Number(today().slice(0, 4)) - 1 } : chosen;
    onAnswer({ codeNames: names });
  };
  return (
    <>
      <ChoiceField<Unset<'queen' | 'hive' | 'until'>>
        label={say('ask.code-names', { example: question.example })}
        hint={question.twice === 0 ? say('ask.code-names-why') : say('ask.code-names-twice', { n: question.twice })}
        value={value}
        onChange={choose}
        choices={[
          { value: 'queen', words: say('ask.names-queen') },
          { value: 'hive', words: say('ask.names-hive') },
          { value: 'until', words: say('ask.names-until') },
        ]}
      />
      {value === 'until' ? (
        <NumberField
          label={say('ask.queen-until')}
          value={until}
          onChange={(year) =>
            year !== null && year > 1900 && year < 2200 && onAnswer({ codeNames: { queenUntil: Math.trunc(year) } })
          }
        />
      ) : null}
    </>
  );
}

const seconds: readonly (Meaning | 'whole')[] = ['whole', 'disc', 'hive', 'year', 'note'];

function CodeSplit({ question, answers, onAnswer }: Of<'code-split'>) {
  const { example, by, rows } = question;
  const behind = example.slice(example.lastIndexOf(by) + 1);
  return (
    <ChoiceField<Unset<Meaning | 'whole'>>
      label={say('ask.code-split', { example, behind })}
      hint={say('ask.rows', { n: rows })}
      value={answers.codeSplit ?? ''}
      onChange={(codeSplit) => codeSplit !== '' && onAnswer({ codeSplit })}
      choices={seconds.map((value) => ({
        value,
        words: value === 'whole' ? say('ask.part-of-code') : say(`meaning.${value}`),
      }))}
    />
  );
}

function CodeDays({ question, answers, onAnswer }: Of<'code-days'>) {
  const { example, dayMonth, monthDay, rows } = question;
  return (
    <ChoiceField<Unset<'day-month' | 'month-day' | 'keep'>>
      label={say('ask.code-days', { example })}
      hint={say('ask.code-days-why', { n: rows })}
      value={answers.codeDays ?? ''}
      onChange={(codeDays) => codeDays !== '' && onAnswer({ codeDays })}
      choices={[
        { value: 'day-month', words: say('ask.code-was', { code: dayMonth }) },
        ...(monthDay === dayMonth
          ? []
          : [{ value: 'month-day' as const, words: say('ask.code-was', { code: monthDay }) }]),
        { value: 'keep', words: say('ask.code-right', { example }) },
      ]}
    />
  );
}

function DronesName({ question, answers, onAnswer }: Of<'drones-name'>) {
  const { example, rows } = question;
  return (
    <ChoiceField<Unset<NonNullable<Answers['dronesName']>>>
      label={say('ask.drones-name', { example })}
      hint={say('ask.drones-name-why', { n: rows })}
      value={answers.dronesName ?? ''}
      onChange={(dronesName) => dronesName !== '' && onAnswer({ dronesName })}
      choices={(['drone-mother', 'her-mother', 'line', 'place'] as const).map((value) => ({
        value,
        words: say(`ask.drones.${value}`, { example }),
      }))}
    />
  );
}

function UnknownMothers({ question, answers, onAnswer }: Of<'unknown-mothers'>) {
  return (
    <ChoiceField
      label={say('ask.unknown-mothers', { n: question.codes, example: question.example })}
      value={answers.unknownMothers ?? 'make'}
      onChange={(unknownMothers) => onAnswer({ unknownMothers })}
      choices={[
        { value: 'make', words: say('ask.mothers-make') },
        { value: 'leave', words: say('ask.mothers-leave') },
      ]}
    />
  );
}

function oneQuestion(question: RehearsalQuestion, answering: Answering): ReactNode {
  switch (question.id) {
    case 'day-order':
      return <DayOrder question={question} {...answering} />;
    case 'code-names':
      return <CodeNamesQuestion question={question} {...answering} />;
    case 'code-split':
      return <CodeSplit question={question} {...answering} />;
    case 'code-days':
      return <CodeDays question={question} {...answering} />;
    case 'drones-name':
      return <DronesName question={question} {...answering} />;
    case 'sisters-each':
      return (
        <NumberField
          label={say('ask.sisters-each')}
          hint={say('ask.sisters-each-why')}
          value={answering.answers.sistersEach ?? null}
          onChange={(n) => n !== null && n >= 1 && answering.onAnswer({ sistersEach: Math.trunc(n) })}
        />
      );
    case 'unknown-mothers':
      return <UnknownMothers question={question} {...answering} />;
    case 'seen-on':
      return (
        <DayField
          label={say('ask.seen-on', { n: question.queens })}
          hint={say('ask.seen-on-why')}
          value={answering.answers.seenOn ?? null}
          onChange={(day) => answering.onAnswer({ seenOn: day ?? undefined } as Partial<Answers>)}
        />
      );
  }
}

const answerOf: Readonly<Record<RehearsalQuestion['id'], keyof Answers>> = {
  'day-order': 'dayOrder',
  'code-names': 'codeNames',
  'code-split': 'codeSplit',
  'code-days': 'codeDays',
  'drones-name': 'dronesName',
  'sisters-each': 'sistersEach',
  'unknown-mothers': 'unknownMothers',
  'seen-on': 'seenOn',
};
const isAnswered = (id: RehearsalQuestion['id'], answers: Answers): boolean => answers[answerOf[id]] !== undefined;

/** What the sheet cannot say by itself; what must be answered is marked. */
export function Questions({ questions, ...answering }: Answering & { questions: readonly RehearsalQuestion[] }) {
  // What follows from an open question is asked when that one is answered.
  const waiting = questions.some(({ needed }) => needed);
  const shown = questions.filter(({ id, needed }) => needed || !waiting || isAnswered(id, answering.answers));
  if (shown.length === 0) return <p className="soft">{say('ask.nothing')}</p>;
  return (
    <ol className="import-questions">
      {shown.map((question) => (
        <li key={question.id} className={question.needed ? 'open' : undefined}>
          {question.needed ? <span className="note">{say('ask.needed')}</span> : null}
          {oneQuestion(question, answering)}
        </li>
      ))}
    </ol>
  );
}
