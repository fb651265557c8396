import type { Stair } from '#domain/rearing/chances/queen-losses.ts';
import type { LossesCounted } from '#questions/rearing/countback.ts';
import { figure } from '#words/queen-words.ts';
import { say, sayAny } from '#words/say.ts';

type Step = { key: string; planned: number | null; low: number | null; high: number | null; counted: number | null };

/** The stairs from larva to laying queen: what is expected of a graft of the right size, and what was counted so far. */
function stepsOf(planned: readonly Stair[], counted: LossesCounted): Step[] {
  const expected = new Map(planned.map((stair) => [stair.step as string, stair]));
  const step = (key: string, from: string, seen: number | null): Step => {
    const stair = expected.get(from);
    return { key, planned: stair?.mean ?? null, low: stair?.low ?? null, high: stair?.high ?? null, counted: seen };
  };
  return [
    step('grafted', 'grafted', counted.grafted),
    step('accepted', 'accepted', counted.accepted),
    step('emerged', 'emerged', counted.emerged),
    step('inseminated', 'ready', counted.inseminated),
    step('laying', 'laying', counted.laying),
  ];
}

const HEIGHT = 26;

function StairWords({ planned, low, high, counted }: Step) {
  const isCertain = low === high || low === null || high === null;
  return (
    <>
      {counted === null ? null : <strong>{say('stairs.counted', { n: counted })} </strong>}
      {planned === null ? null : (
        <span className="soft">
          {isCertain
            ? say('stairs.planned', { n: figure(planned, 0) })
            : say('stairs.planned-between', { n: figure(planned, 0), low: figure(low, 0), high: figure(high, 0) })}
        </span>
      )}
    </>
  );
}

/** Losses stairs: planned as outlines, counted filled. */
export function LossesStairs({ planned, counted }: { planned: readonly Stair[]; counted: LossesCounted }) {
  const steps = stepsOf(planned, counted);
  const most = Math.max(...steps.flatMap((each) => [each.planned ?? 0, each.high ?? 0, each.counted ?? 0]), 1);
  const width = (value: number) => `${(98 * value) / most}%`;
  return (
    <>
      <table className="stairs">
        <caption className="visually-hidden">{say('stairs.title')}</caption>
        <tbody>
          {steps.map((step) => (
            <tr key={step.key}>
              <th scope="row">{sayAny(`stairs.${step.key}`)}</th>
              <td className="stair">
                <svg width="100%" height={HEIGHT} aria-hidden="true">
                  {step.planned === null ? null : (
                    <rect x="1" y="3" width={width(step.planned)} height={HEIGHT - 6} className="planned" />
                  )}
                  {step.counted === null ? null : (
                    <rect x="1" y="8" width={width(step.counted)} height={HEIGHT - 16} className="counted" />
                  )}
                </svg>
              </td>
              <td className="stair-words">
                <StairWords {...step} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="note">{say('stairs.why')}</p>
    </>
  );
}
