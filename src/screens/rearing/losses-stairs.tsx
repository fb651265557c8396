import type { Countback } from '#questions/rearing/countback.ts';
import { figure } from '#words/queen-words.ts';
import { say, sayAny } from '#words/say.ts';

type Step = { key: string; planned: number | null; low: number | null; high: number | null; counted: number | null };

/** The stairs from larva to laying queen: what is expected of a graft of the right size, and what was counted so far. */
function stepsOf({ planned, counted }: Countback): Step[] {
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

/** Losses stairs: planned as outlines, counted filled. */
export function LossesStairs({ countback }: { countback: Countback }) {
  const { larvae, wish } = countback;
  if (larvae === null || wish === null) return <p className="soft">{say('stairs.none')}</p>;
  const steps = stepsOf(countback);
  const most = Math.max(...steps.flatMap(({ planned, high, counted }) => [planned ?? 0, high ?? 0, counted ?? 0]), 1);
  const width = (value: number) => `${(98 * value) / most}%`;
  return (
    <section className="sheet stack tight">
      <h2>{say('stairs.title')}</h2>
      <p className="lead">
        <strong>{say('stairs.graft', { larvae })}</strong>
      </p>
      <p className="note">{say('stairs.why', { queens: wish.queens })}</p>
      <table className="stairs">
        <tbody>
          {steps.map(({ key, planned, low, high, counted }) => (
            <tr key={key}>
              <th scope="row">{sayAny(`stairs.${key}`)}</th>
              <td className="stair">
                <svg width="100%" height={HEIGHT} aria-hidden="true">
                  {planned === null ? null : (
                    <rect x="1" y="3" width={width(planned)} height={HEIGHT - 6} className="planned" />
                  )}
                  {counted === null ? null : (
                    <rect x="1" y="8" width={width(counted)} height={HEIGHT - 16} className="counted" />
                  )}
                </svg>
              </td>
              <td className="stair-words">
                {counted === null ? null : <strong>{say('stairs.counted', { n: counted })} </strong>}
                {planned === null ? null : (
                  <span className="soft">
                    {low === high || low === null || high === null
                      ? say('stairs.planned', { n: figure(planned, 0) })
                      : say('stairs.planned-between', {
                          n: figure(planned, 0),
                          low: figure(low, 0),
                          high: figure(high, 0),
                        })}
                  </span>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
