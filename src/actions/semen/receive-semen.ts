import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import type { Day } from '#units/calendar-day.ts';
import { dayOfMoment } from '#units/moment.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { endShape, microlitreShape, newTubeShape, sourceShape, whenAndWho } from './shapes.ts';
import { sourcesMade } from './write-catch.ts';
import { lineAt, linesWritten, tubeMade } from './write-line.ts';

const input = z.strictObject({
  tube: newTubeShape,
  /** Who it came from. */
  from: idShape.optional(),
  what: z.string().trim().min(1).max(2_000).optional(),
  papers: z.string().trim().min(1).max(2_000).optional(),
  /** When it was collected, if the sender says. */
  collected_on: dayShape.optional(),
  sources: z.array(sourceShape).max(50),
  microlitres: microlitreShape,
  /** The undiluted part; all of it when nothing is said. */
  semen: microlitreShape.optional(),
  drones: z.number().min(0).optional(),
  mixing: z.enum(['layered', 'stirred', 'homogenised']).optional(),
  end: endShape.optional(),
  ...whenAndWho,
});

type Input = z.infer<typeof input>;

function impossible({ semen, microlitres, collected_on }: Input, came: Day): Problem[] {
  const problems: Problem[] = [];
  if (semen !== undefined && semen > microlitres)
    problems.push(refuse('semen', 'semen-above-volume', { semen, volume: microlitres }));
  if (collected_on !== undefined && collected_on > came)
    problems.push(refuse('collected_on', 'collected-after-it-came', { collected: collected_on, came }));
  return problems;
}

/** Writes down semen received from another breeder, as its sender describes it. */
export const receiveSemen = action({
  name: 'receive-semen',
  place: 'semen',
  what: 'Write down a tube received from another breeder, as its sender describes it.',
  input,
  async run(given, circumstances) {
    const { newId, done } = circumstances;
    const at = given.at ?? done;
    const refused = impossible(given, dayOfMoment(at));
    if (refused.length > 0) return { changes: [], result: null, problems: refused };
    const { id, change, problems } = await tubeMade(given.tube, 'tube.code', circumstances);
    const mixing = given.mixing ?? null;
    const tube = 'create' in change ? { ...change, create: { ...change.create, mixing } } : change;
    const parcel = newId();
    const from = newId();
    const { changes: sources } = sourcesMade(from, given.sources, circumstances);
    const line = {
      ...lineAt(id, 'received', { at, person: given.person }),
      catch: from,
      parcel,
      volume_ul: given.microlitres,
      semen_ul: given.semen ?? given.microlitres,
      drones: given.drones ?? null,
      end: given.end ?? null,
    };
    const what = given.what ?? given.tube.code;
    return {
      changes: [
        tube as typeof change,
        creating('parcel', parcel, {
          direction: 'received',
          day: dayOfMoment(at),
          other: given.from ?? null,
          what,
          papers: given.papers ?? null,
        }),
        creating('drone_catch', from, { day: given.collected_on ?? dayOfMoment(at) }),
        ...sources,
        ...(await linesWritten([line], circumstances)),
      ],
      result: { id },
      problems,
    };
  },
});
