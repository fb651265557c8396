import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import { dayOfMoment } from '#units/moment.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { endShape, microlitreShape, readHowShape, whenAndWho } from './shapes.ts';
import { type Line, lineAt, linesWritten } from './write-line.ts';

/** Steps a person takes with a tube besides collecting, giving and receiving. */
export const tubeSteps = [
  'drawn-over',
  'diluent',
  'stirred',
  'homogenised',
  'spun-off',
  'sealed',
  'frozen',
  'thawed',
  'lost',
  'broken',
  'sent',
  're-measured',
] as const;
export type TubeStep = (typeof tubeSteps)[number];

const input = z.strictObject({
  tube: idShape,
  step: z.enum(tubeSteps),
  /** µl drawn over, added, taken off, lost, sent, or read; what was left when it is not said (lost, broken, sent). */
  microlitres: microlitreShape.optional(),
  /** µl of semen in what was taken off after spinning. */
  semen: microlitreShape.optional(),
  end: endShape.optional(),
  /** The tube it was drawn out of, and by which of its ends. */
  from: idShape.optional(),
  from_end: endShape.optional(),
  /** Who it was sent to. */
  to: idShape.optional(),
  papers: z.string().trim().min(1).max(2_000).optional(),
  read_how: readHowShape.optional(),
  ...whenAndWho,
});
type Input = z.infer<typeof input>;

const needVolume: readonly TubeStep[] = ['drawn-over', 'diluent', 'spun-off', 're-measured'];

function missing({ step, microlitres, from, tube }: Input): Problem[] {
  const problems: Problem[] = [];
  if (needVolume.includes(step) && microlitres === undefined) problems.push(refuse('microlitres', 'needed'));
  if (step === 'drawn-over' && from === undefined) problems.push(refuse('from', 'needed'));
  if (step === 'drawn-over' && from === tube) problems.push(refuse('from', 'drawn-from-itself'));
  return problems;
}

/** The parcel of a part that was sent away. */
function parcelOf({ step, to, papers }: Input, at: Line['moment'], code: string, { newId }: Circumstances): Change[] {
  if (step !== 'sent') return [];
  return [
    creating('parcel', newId(), {
      direction: 'sent',
      day: dayOfMoment(at),
      other: to ?? null,
      what: code,
      papers: papers ?? null,
    }),
  ];
}

/** Writes a step into a tube's ledger. Nothing is ever edited: a wrong line is corrected by another. */
export const stepTube = action({
  name: 'step-tube',
  place: 'semen',
  what: 'Write a step into the ledger of a tube: drawn over, thinned, stirred, sealed, lost, sent, measured again …',
  input,
  async run(given, circumstances) {
    const { book, done } = circumstances;
    const tube = await book.get('tube', given.tube);
    if (tube === null)
      return {
        changes: [],
        result: null,
        problems: [refuse('tube', 'unknown-record', { kind: 'tube', id: given.tube })],
      };
    const problems = missing(given);
    if (problems.length > 0) return { changes: [], result: null, problems };
    const at = given.at ?? done;
    const line: Line = {
      ...lineAt(given.tube, given.step, { at, person: given.person }),
      volume_ul: given.microlitres ?? null,
      semen_ul: given.semen ?? null,
      end: given.end ?? null,
      from_tube: given.from ?? null,
      from_end: given.step === 'drawn-over' ? (given.from_end ?? 'filled') : null,
      read_how: given.read_how ?? null,
    };
    const parcel = parcelOf(given, at, tube.code, circumstances);
    const changes = await linesWritten([{ ...line, parcel: parcel[0]?.id ?? null }], circumstances);
    return { changes: [...parcel, ...changes], result: { id: changes[0]?.id ?? null } };
  },
});
