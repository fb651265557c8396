import type { Problem } from '#units/problem.ts';

type Status = 400 | 404 | 409 | 413 | 422;

const byCode: Readonly<Record<string, Status>> = {
  'unknown-record': 404,
  'unknown-act': 404,
  'unknown-action': 404,
  'act-id-used': 409,
  'changed-since': 409,
  'built-on': 409,
  'still-used': 409,
  'code-taken': 409,
  'stepped-back-already': 409,
  needed: 400,
  'wrong-kind': 400,
  'not-in-list': 400,
  'unknown-field': 400,
  wrong: 400,
  'not-a-day': 400,
  'not-a-moment': 400,
  'not-an-id': 400,
  'too-small': 400,
  'too-big': 400,
  'bad-json': 400,
  'too-large': 413,
};

/** The HTTP status of a refusal: that of its first problem; what the trade refuses is 422. */
export const statusOf = (problems: readonly Pick<Problem, 'code'>[]): Status => byCode[problems[0]?.code ?? ''] ?? 422;
