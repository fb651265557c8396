import type { Problem } from '#units/problem.ts';

/** A problem as the server tells it, with its sentence. */
export type SaidProblem = Problem & { says?: string };

/** Thrown when the server refused; the problems say where and why. */
export class RefusedByServer extends Error {
  readonly problems: readonly SaidProblem[];
  readonly status: number;
  constructor(problems: readonly SaidProblem[], status: number) {
    super(problems.map(({ code }) => code).join(', '));
    this.problems = problems;
    this.status = status;
  }
}

/** Thrown when there is no answer: the server is stopped or out of reach. */
export class OutOfReach extends Error {}

async function fetched(path: string, init?: RequestInit): Promise<Response> {
  try {
    return await fetch(path, init);
  } catch {
    throw new OutOfReach(path);
  }
}

async function read<T>(response: Response): Promise<T> {
  const body = (await response.json().catch(() => null)) as { problems?: SaidProblem[] } | null;
  if (!response.ok) throw new RefusedByServer(body?.problems ?? [], response.status);
  return body as T;
}

/** Asks the server for JSON; it stops working on the answer when `signal` fires. */
export const getJson = async <T>(path: string, signal?: AbortSignal): Promise<T> =>
  read<T>(await fetched(path, signal === undefined ? undefined : { signal }));

/** Sends JSON to the server. */
export const postJson = async <T>(path: string, body: unknown): Promise<T> =>
  read<T>(
    await fetched(path, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    }),
  );

/** Sends bytes to the server. */
export const postBytes = async <T>(path: string, bytes: Blob): Promise<T> =>
  read<T>(
    await fetched(path, { method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body: bytes }),
  );

/** The address of a question's answer or a paper, with its input. */
export const withInput = (path: string, input: unknown): string =>
  `${path}?input=${encodeURIComponent(JSON.stringify(input))}`;
