import type { z } from 'zod';
import { type Problem, refuse } from '#units/problem.ts';

type Issue = z.core.$ZodIssue;

function codeOf(issue: Issue): { code: string; values: Problem['values'] } {
  switch (issue.code) {
    case 'invalid_type':
      return issue.input === undefined
        ? { code: 'needed', values: {} }
        : { code: 'wrong-kind', values: { expected: issue.expected } };
    case 'too_small':
      return { code: issue.origin === 'string' ? 'needed' : 'too-small', values: { least: Number(issue.minimum) } };
    case 'too_big':
      return { code: 'too-big', values: { most: Number(issue.maximum) } };
    case 'invalid_value':
      return { code: 'not-in-list', values: { list: issue.values.map(String).join(', ') } };
    case 'unrecognized_keys':
      return { code: 'unknown-field', values: { fields: issue.keys.join(', ') } };
    case 'custom':
      return { code: String(issue.params?.code ?? 'wrong'), values: {} };
    default:
      return { code: 'wrong', values: {} };
  }
}

/** Every issue zod found, as problems at the field. A union gives the issues of its best-fitting branch. */
function problemsIn(issues: readonly Issue[], under: readonly PropertyKey[] = []): Problem[] {
  return issues.flatMap((issue) => {
    const path = [...under, ...issue.path];
    if (issue.code === 'invalid_union') {
      const branches = issue.errors.filter((branch) => branch.length > 0);
      const best = branches.sort((a, b) => a.length - b.length)[0];
      if (best?.some(({ path: inner }) => inner.length > 0)) return problemsIn(best, path);
    }
    const { code, values } = codeOf(issue);
    return [refuse(path.map(String).join('.'), code, values)];
  });
}

/** Reads plain input against a shape: the typed value, or problems at the fields. The same in browser and server. */
export function parse<T>(shape: z.ZodType<T>, input: unknown): { value: T } | { problems: Problem[] } {
  const read = shape.safeParse(input, { reportInput: true });
  return read.success ? { value: read.data } : { problems: problemsIn(read.error.issues) };
}
