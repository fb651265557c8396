import { crossBrood } from '#questions/crosses/cross-brood.ts';
import { type CrossOutlook, crossOutlook } from '#questions/crosses/cross-outlook.ts';
import type { RecordId } from '#units/record-id.ts';
import { figure } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { Code } from '../parts/identity-band.tsx';
import { AreaSquare } from '../stock/area-square.tsx';
import { Assumptions } from '../stock/assumptions.tsx';
import { sourcesTyped, type TypedSource } from './cross-form.ts';

type Sides = { dams: readonly string[]; sources: readonly TypedSource[]; drones: number | null };

/** Of a hundred brood cells, how many are expected to live; a bar beside a mark at the limit. */
function BroodBar({ viability, spread, limit }: { viability: number; spread: number; limit: number }) {
  const x = (share: number) => (share - 0.5) * 240;
  return (
    <svg viewBox="-2 0 124 18" width="124" height="18" className="brood-bar" aria-hidden="true">
      <path d="M0 9h120" className="thin" />
      <path d={`M${x(limit)} 2v14`} className="limit" />
      <path d={`M${x(Math.max(0.5, viability - spread))} 9H${x(Math.min(1, viability + spread))}`} className="spread" />
      <circle cx={x(viability)} cy="9" r="4" />
    </svg>
  );
}

/** How much brood of each dam's daughters is expected to live; worked out while the page stays free. */
function useBrood({ dams, sources, drones }: Sides, enabled: boolean) {
  const drone_sources = sourcesTyped(sources);
  const input = {
    crosses: dams.map((dam) => ({ dam: dam as RecordId, drone_sources })),
    ...(drones === null ? {} : { drones }),
  };
  return useAsk(crossBrood, input, enabled && drone_sources.length > 0);
}

function OutlookTable({ outlook, sides }: { outlook: CrossOutlook; sides: Sides }) {
  const dams = outlook.dams.map(({ dam }) => dam);
  const brood = useBrood({ ...sides, dams }, dams.length > 0);
  const limit = brood.data?.limit ?? 0.85;
  return (
    <ul className="outlooks">
      {outlook.dams.map(({ dam, name, broodInbreeding }, i) => {
        const of = brood.data?.crosses[i] ?? null;
        return (
          <li key={dam}>
            <strong className="of">
              {say('cross.daughters-of')} <Code>{name}</Code>
            </strong>
            <span className="value">
              <AreaSquare value={broodInbreeding} most={0.5} />{' '}
              {say('cross.brood-inbreeding', { value: figure(broodInbreeding, 3) })}
            </span>
            <span className="value">
              {of === null ? (
                <span className="soft">{say('cross.brood-coming')}</span>
              ) : (
                <>
                  <BroodBar viability={of.viability} spread={of.spread} limit={limit} />
                  {say('cross.brood-lives', { n: Math.round(of.viability * 100) })}
                  {of.viability < limit ? <strong> {say('cross.brood-poor')}</strong> : null}
                </>
              )}
            </span>
          </li>
        );
      })}
    </ul>
  );
}

/** What a planned cross would be: how inbred its brood, how much of it would live, and what both rest on. */
export function Outlook({ dams, sources, drones }: Sides) {
  const drone_sources = sourcesTyped(sources);
  const ready = dams.length > 0 && drone_sources.length > 0;
  const input = { dams: dams as RecordId[], drone_sources, ...(drones === null ? {} : { drones }) };
  const query = useAsk(crossOutlook, input, ready);
  if (!ready) return <p className="soft">{say('cross.outlook-none')}</p>;
  return (
    <Asked query={query}>
      {(outlook) => (
        <div className="stack tight">
          <OutlookTable outlook={outlook} sides={{ dams, sources, drones }} />
          <Assumptions assumptions={outlook.assumptions} />
          <p className="note">{say('cross.brood-rests-on', { drones: outlook.drones })}</p>
        </div>
      )}
    </Asked>
  );
}
