import { Hono } from 'hono';
import type { Action } from '#actions/mechanism/action.ts';
import { perform } from '#actions/mechanism/perform.ts';
import { replay } from '#actions/mechanism/replay.ts';
import type { Paper } from '#documents/paper.ts';
import type { Ports } from '#ports/ports.ts';
import { ask } from '#questions/mechanism/ask.ts';
import type { Question } from '#questions/mechanism/question.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { sayProblem } from '#words/say.ts';
import { readAct, readActs } from './act-body.ts';
import { describe } from './describe.ts';
import { events } from './events.ts';
import { guard } from './guard.ts';
import { addKeptRuns } from './kept-runs.ts';
import { addPairing, door, type Entrance } from './pairing/door.ts';
import { addPhotos } from './photos.ts';
import { MOST_UPLOAD, readBytes, readJson } from './read-body.ts';
import { statusOf } from './status.ts';

/** One file of the built pages. */
export type Asset = { bytes: Uint8Array<ArrayBuffer>; type: string; lasting: boolean };

export type AppOptions = {
  ports: Ports;
  actions: ReadonlyMap<string, Action>;
  questions: ReadonlyMap<string, Question>;
  papers: ReadonlyMap<string, Paper>;
  /** host:port names this server answers to. */
  allowed: ReadonlySet<string>;
  /** The file of a path of the built pages; the start page for a path inside the product. */
  asset: (path: string) => Asset | null;
  version: string;
  /** Content hash of bytes, hexadecimal. */
  hash: (bytes: Uint8Array) => string;
  copies: Copies;
  /** Where its requests come from, and who is let in. */
  entrance: Entrance;
};

/** Copies of the whole book. A path on the server is never taken from a request. */
export type Copies = {
  /** When the last safe copy was made, as an ISO time; `null` when there is none. */
  last(): string | null;
  /** Makes a safe copy in the folder of copies. */
  make(): Promise<void>;
  /** A safe copy, to be carried away. */
  download(): Promise<Uint8Array<ArrayBuffer>>;
  /** The whole book in open form, as a zip. */
  export(): Promise<Uint8Array<ArrayBuffer>>;
  /** Puts an uploaded copy or export in the place of the book; `refused` says why it cannot be. */
  restore(bytes: Uint8Array): Promise<{ keptAs: string | null } | { refused: string }>;
};

const refused = (problems: readonly Problem[]) =>
  Response.json(
    { problems: problems.map((problem) => ({ ...problem, says: sayProblem(problem) })) },
    { status: statusOf(problems) },
  );

function inputOf(url: string): { value: unknown } | { problems: Problem[] } {
  const text = new URL(url).searchParams.get('input');
  if (text === null) return { value: {} };
  try {
    return { value: JSON.parse(text) as unknown };
  } catch {
    return { problems: [refuse('input', 'bad-json')] };
  }
}

/** A file name a browser can keep: letters, digits, dash and point. */
const safeName = (name: string) => name.replace(/[^\p{L}\p{N}.-]+/gu, '-');

function addActions(app: Hono, { actions, ports }: AppOptions): void {
  for (const [name, action] of actions)
    app.post(`/api/act/${name}`, async (c) => {
      const body = await readJson(c);
      const act = 'problems' in body ? body : readAct(name, body.value, ports);
      if ('problems' in act) return refused(act.problems);
      const done = await perform(action, act.value, ports);
      if ('problems' in done) return refused(done.problems);
      return c.json({ ...done, warnings: done.warnings.map((each) => ({ ...each, says: sayProblem(each) })) });
    });
  app.post('/api/acts', async (c) => {
    const body = await readJson(c);
    const acts = 'problems' in body ? body : readActs(body.value, ports);
    return 'problems' in acts ? refused(acts.problems) : c.json(await replay(acts.value, ports));
  });
}

function addQuestions(app: Hono, { questions, papers, ports }: AppOptions): void {
  for (const [name, question] of questions)
    app.get(`/api/ask/${name}`, async (c) => {
      const input = inputOf(c.req.url);
      const answered = 'problems' in input ? input : await ask(question, input.value, ports, c.req.raw.signal);
      return 'problems' in answered ? refused(answered.problems) : c.json(answered);
    });
  for (const [name, paper] of papers)
    app.get(`/api/paper/${name}`, async (c) => {
      const input = inputOf(c.req.url);
      const answered = 'problems' in input ? input : await ask(paper.question, input.value, ports, c.req.raw.signal);
      if ('problems' in answered) return refused(answered.problems);
      const disposition = `inline; filename*=UTF-8''${encodeURIComponent(safeName(paper.fileName(answered.answer)))}`;
      const bytes = await paper.draw(answered.answer);
      return new Response(bytes, { headers: { 'Content-Type': paper.form, 'Content-Disposition': disposition } });
    });
}

function addBytes(app: Hono, { ports, hash }: AppOptions): void {
  addPhotos(app, ports);
  addKeptRuns(app, ports);
  app.post('/api/upload', async (c) => {
    const read = await readBytes(c, MOST_UPLOAD);
    if ('problems' in read) return refused(read.problems);
    const name = hash(read.value);
    await ports.store.keepBytes(name, 'application/octet-stream', read.value);
    return c.json({ hash: name, size: read.value.byteLength });
  });
}

const asFile = (bytes: Uint8Array<ArrayBuffer>, name: string, form: string) =>
  new Response(bytes, {
    headers: { 'Content-Type': form, 'Content-Disposition': `attachment; filename="${name}"` },
  });

function addCopies(app: Hono, { copies, ports, version }: AppOptions, endStreams: () => void): void {
  app.get('/api/book', async (c) =>
    c.json({ seq: await ports.store.seq(), epoch: await ports.store.epoch(), safeCopy: copies.last(), version }),
  );
  app.post('/api/safe-copy', async (c) => {
    await copies.make();
    return c.json({ safeCopy: copies.last() });
  });
  app.get('/api/safe-copy', async () =>
    asFile(await copies.download(), 'combwright.sqlite', 'application/octet-stream'),
  );
  app.get('/api/export', async () => asFile(await copies.export(), 'combwright-export.zip', 'application/zip'));
  app.post('/api/restore', async (c) => {
    const read = await readBytes(c, MOST_UPLOAD);
    if ('problems' in read) return refused(read.problems);
    const done = await copies.restore(read.value);
    if ('refused' in done) return refused([refuse('', 'cannot-restore', { why: done.refused })]);
    endStreams();
    return c.json(done);
  });
}

/** The HTTP interface: one path per action and per question, made from the registry by one loop each, and the pages. */
export function createApp(options: AppOptions): { app: Hono; endStreams: () => void } {
  const { ports, allowed, asset } = options;
  const app = new Hono();
  const streams = new Set<() => void>();
  const endStreams = () => {
    for (const end of streams) end();
  };
  app.use(guard(allowed));
  if (options.entrance.from === 'network') app.use(door(options.entrance));
  app.get('/api/health', (c) => c.json({ status: 'ok' }));
  app.get('/api/openapi.json', (c) =>
    c.json(describe(options.actions.values(), options.questions.values(), options.version)),
  );
  app.get('/api/events', (c) => events(c, ports.store, streams));
  addActions(app, options);
  addQuestions(app, options);
  addBytes(app, options);
  addCopies(app, options, endStreams);
  addPairing(app, options.entrance);
  app.all('/api/*', (c) => c.json({ problems: [refuse('', 'unknown-path', { path: c.req.path })] }, 404));
  app.get('*', (c) => {
    const file = asset(c.req.path);
    if (file === null) return c.text('Not found', 404);
    const cache = file.lasting ? 'public, max-age=31536000, immutable' : 'no-cache';
    return new Response(file.bytes, { headers: { 'Content-Type': file.type, 'Cache-Control': cache } });
  });
  app.onError((error, c) => {
    // Who asked is gone, and the work was ended: there is nobody to tell.
    if (error.name === 'AbortError' && c.req.raw.signal.aborted) return c.body(null, 204);
    console.error(error);
    return c.json({ problems: [refuse('', 'our-fault', {})] }, 500);
  });
  return { app, endStreams };
}
