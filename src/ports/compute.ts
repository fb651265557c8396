/** Progress of long work: `done` of `whole`, in steps a person understands. */
export type Progress = (done: number, whole: number) => void;

/** A request to stop, as any AbortSignal is one. */
export interface Stop {
  readonly aborted: boolean;
  addEventListener(type: 'abort', listener: () => void): void;
}

/** Where heavy domain functions run: a worker thread, a Web Worker, or (for small work and tests) here. */
export interface Compute {
  /**
   * Runs the computation named `name` on plain data and gives its plain answer.
   * Rejects with an `AbortError` when `signal` fires; the work is ended, not waited for.
   */
  run<A>(name: string, facts: unknown, options?: { progress?: Progress; signal?: Stop }): Promise<A>;
}
