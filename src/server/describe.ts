import { z } from 'zod';
import type { Action } from '#actions/mechanism/action.ts';
import type { Question } from '#questions/mechanism/question.ts';
import { actShape, namedActShape } from './act-body.ts';

type Schema = Record<string, unknown>;

const schemaOf = (shape: z.ZodType): Schema => {
  const { $schema: _, ...schema } = z.toJSONSchema(shape, { unrepresentable: 'any', io: 'input' }) as Schema;
  return schema;
};

const json = (schema: Schema) => ({ content: { 'application/json': { schema } } });
const problems = {
  description: 'The problems, each with its place; nothing has changed.',
  ...json({ $ref: '#/components/schemas/Refused' }),
};

function actionPath({ what, input, place }: Action): Schema {
  const body = schemaOf(actShape) as { properties: Schema };
  return {
    post: {
      summary: what,
      tags: [place],
      requestBody: { required: true, ...json({ ...body, properties: { ...body.properties, input: schemaOf(input) } }) },
      responses: {
        200: { description: 'What became of the act.', ...json({ $ref: '#/components/schemas/Done' }) },
        '4XX': problems,
      },
    },
  };
}

function questionPath({ what, input }: Question): Schema {
  const parameter = { name: 'input', in: 'query', description: 'The input as JSON.', ...json(schemaOf(input)) };
  return {
    get: {
      summary: what,
      parameters: [parameter],
      responses: {
        200: { description: 'The answer and the number of the last act it has seen.', ...json({}) },
        '4XX': problems,
      },
    },
  };
}

const components = {
  schemas: {
    Problem: {
      type: 'object',
      properties: {
        path: { type: 'string' },
        code: { type: 'string' },
        values: { type: 'object' },
        weight: { enum: ['refuse', 'doubt', 'warn'] },
        says: { type: 'string' },
      },
    },
    Refused: {
      type: 'object',
      properties: { problems: { type: 'array', items: { $ref: '#/components/schemas/Problem' } } },
    },
    Done: {
      type: 'object',
      properties: {
        seq: { type: 'integer' },
        again: { type: 'boolean' },
        result: {},
        touched: { type: 'array' },
        warnings: { type: 'array', items: { $ref: '#/components/schemas/Problem' } },
      },
    },
  },
};

/** The interface description, OpenAPI 3.1, from the registry: every action and every question. */
export function describe(actions: Iterable<Action>, questions: Iterable<Question>, version: string): Schema {
  const paths: Record<string, Schema> = {
    '/api/health': { get: { summary: 'Whether it answers.', responses: { 200: { description: 'It does.' } } } },
    '/api/acts': {
      post: {
        summary: 'Acts of a device, done in order, each once; what cannot be done is parked.',
        requestBody: { required: true, ...json({ type: 'array', items: schemaOf(namedActShape) }) },
        responses: { 200: { description: 'What became of each.', ...json({ type: 'array' }) }, '4XX': problems },
      },
    },
  };
  for (const each of actions) paths[`/api/act/${each.name}`] = actionPath(each);
  for (const each of questions) paths[`/api/ask/${each.name}`] = questionPath(each);
  return { openapi: '3.1.0', info: { title: 'Combwright', version }, paths, components };
}
