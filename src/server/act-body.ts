import { z } from 'zod';
import type { Ports } from '#ports/ports.ts';
import type { Act } from '#ports/store.ts';
import { idShape, momentShape } from '#records/field.ts';
import { parse } from '#records/parse.ts';
import { epochOf } from '#units/moment.ts';
import type { Problem } from '#units/problem.ts';
import { uuid7 } from '#units/record-id.ts';

/** One act as it is sent. A program that leaves out `id` and `done` gets them here, and cannot repeat the act safely. */
export const actShape = z.strictObject({
  id: idShape.optional(),
  input: z.unknown(),
  seen: z.int().min(0).optional(),
  done: momentShape.optional(),
  device: z.string().max(100).optional(),
  n: z.int().min(0).optional(),
  who: z.string().max(200).optional(),
  happened: z.boolean().optional(),
});

/** The same with its name, for a list of acts. */
export const namedActShape = actShape.extend({ name: z.string() });

type Sent = z.infer<typeof actShape>;

function complete(name: string, sent: Sent, { clock, random }: Ports): Act {
  const now = clock.now();
  return { ...sent, name, id: sent.id ?? uuid7(epochOf(now), random.bytes(10)), done: sent.done ?? now };
}

/** Reads one sent act. */
export function readAct(name: string, body: unknown, ports: Ports): { value: Act } | { problems: Problem[] } {
  const read = parse(actShape as z.ZodType<Sent>, body);
  return 'problems' in read ? read : { value: complete(name, read.value, ports) };
}

/** Reads a list of sent acts. */
export function readActs(body: unknown, ports: Ports): { value: Act[] } | { problems: Problem[] } {
  const read = parse(z.array(namedActShape).max(10_000) as z.ZodType<(Sent & { name: string })[]>, body);
  if ('problems' in read) return read;
  return { value: read.value.map(({ name, ...sent }) => complete(name, sent, ports)) };
}
