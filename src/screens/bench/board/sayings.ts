import type { QueueEntry, Step } from '#domain/insemination/bench-board.ts';
import { exceptionKinds } from '#domain/insemination/exception.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import type { MotherPart } from '#domain/semen/contents.ts';
import { nameOfSource } from '#questions/semen/source-names.ts';
import { say, sayAny } from '#words/say.ts';
import type { SessionState } from './session.ts';

/** µl with one decimal. */
export const volume = (microlitres: number): string => microlitres.toFixed(1);

export const faceOf = ({ answer }: SessionState, queen: string): QueenFace | null =>
  answer.faces.find(({ id }) => id === queen) ?? null;

export const entryOf = ({ board }: SessionState, queen: string): QueueEntry | null =>
  board.facts.queue.find((entry) => entry.queen === queen) ?? null;

/** The number of the cage a queen sits in, as its label says it. */
export function cageOf(state: SessionState, queen: string): string | null {
  const cage = entryOf(state, queen)?.cage ?? null;
  return state.answer.labels.find(({ kind, id }) => kind === 'cage' && id === cage)?.text ?? null;
}

/** How a queen is called at the bench: her code, her bar and cell, her cage, or the label she came under. */
export function queenCalled(state: SessionState, queen: string): string {
  const face = faceOf(state, queen);
  const cage = cageOf(state, queen);
  const known = state.answer.labels.find(({ kind, id }) => kind === 'queen' && id === queen);
  return (
    face?.code ??
    face?.called ??
    known?.text ??
    state.unknown.get(queen)?.code ??
    (cage === null ? say('bench.some-queen') : say('bench.cage', { cage }))
  );
}

/** What a tube is called. */
export const tubeCalled = ({ answer, unknown }: SessionState, tube: string): string =>
  answer.names[tube] ?? unknown.get(tube)?.code ?? '–';

/** The drone mothers of some semen in words: "M-07 (Heath)", with shares where there are several. */
export function mothersCalled({ answer }: SessionState, mothers: readonly MotherPart[]): string {
  return mothers
    .map(({ of, share }) => {
      const name = of.kind === 'open' ? say('semen.strangers') : nameOfSource(of, answer.names);
      const line = of.kind === 'mother' ? answer.lines[of.queen] : undefined;
      const called = line === undefined ? name : `${name} (${line})`;
      return mothers.length > 1 ? `${called} ${Math.round(share * 100)}\u2009%` : called;
    })
    .join(' + ');
}

const isException = (what: string): boolean => (exceptionKinds as readonly string[]).includes(what);

/** A step in words, as it is offered back: "Dose 8.0 µl to 27-013". */
export function stepWords(state: SessionState, step: Step): string {
  const queen = step.queen === null ? '' : queenCalled(state, step.queen);
  if (step.what === 'dose-given') {
    const dose = state.board.facts.last?.microlitres ?? state.board.usualDose;
    return say('bench.step.dose-given', { queen, dose: volume(dose) });
  }
  if (isException(step.what)) return say('bench.step.exception', { queen, what: sayAny(`exception.${step.what}`) });
  return sayAny(`bench.step.${step.what}`, { queen });
}

/** The last thing that can be stepped back, in words; null when there is none. */
export function lastStepWords(state: SessionState): string | null {
  const last = state.board.steps.at(-1);
  return last === undefined ? null : stepWords(state, last);
}

/** The queen recorded last, her dose, and what went otherwise; good where nothing did. */
export function lastWords(state: SessionState): string {
  const { last } = state.board.facts;
  if (last === null) return say('bench.last-none');
  const values = { queen: queenCalled(state, last.queen), dose: volume(last.microlitres) };
  if (last.exceptions.length === 0) return say('bench.last', values);
  const what = last.exceptions.map((kind) => sayAny(`exception.${kind}`)).join(', ');
  return say('bench.last-with', { ...values, what });
}
