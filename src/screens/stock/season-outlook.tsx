import { type BeforeAfter, type FlownOutlook, matingSeasonOutlook } from '#questions/stock/mating-season-outlook.ts';
import type { MatingSeasonTold } from '#questions/stock/mating-seasons.ts';
import type { RecordId } from '#units/record-id.ts';
import { figure } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { QueenLink } from './queen-link.tsx';

type Sources = { queen?: RecordId; sister_group?: RecordId }[];
type OutlookProps = {
  title: string;
  season: MatingSeasonTold;
  /** What would stand there; `null`: the season is taken back; left out: what kinship says of it as it is. */
  sources?: Sources | null;
};

const DECIMALS = 3;
const told = (value: number | null) => (value === null ? '–' : figure(value, DECIMALS));

/** The figure as it is, and beside it what it would be. One that stays is said once. */
function figureWords({ now, would }: BeforeAfter, isCompared: boolean): string {
  if (!isCompared) return told(now);
  if (told(now) === told(would)) return say('places.stays', { now: told(now) });
  return say('places.now-then', { now: told(now), would: told(would) });
}

function columnsOf({ flown }: MatingSeasonTold, isCompared: boolean): Column<FlownOutlook>[] {
  const faces = new Map(flown.map((face) => [face.id, face]));
  return [
    {
      key: 'queen',
      label: say('places.queen'),
      lead: true,
      by: ({ name }) => name,
      cell: ({ queen, name }) => {
        const face = faces.get(queen);
        return face === undefined ? name : <QueenLink queen={face} />;
      },
    },
    {
      key: 'brood',
      label: say('places.brood'),
      number: true,
      by: ({ brood }) => brood.now,
      cell: ({ brood }) => figureWords(brood, isCompared),
    },
    {
      key: 'sisters',
      label: say('places.sisters-related'),
      number: true,
      by: ({ sisters }) => sisters.now,
      cell: ({ sisters }) => figureWords(sisters, isCompared),
    },
    {
      key: 'daughters',
      label: say('places.daughters'),
      number: true,
      by: ({ daughters }) => daughters,
      cell: ({ daughters }) => daughters,
    },
  ];
}

/** What kinship says of the queens mated there; beside it, with other drone mothers, what it would say. */
export function SeasonOutlook({ title, season, sources }: OutlookProps) {
  const isCompared = sources !== undefined;
  const query = useAsk(matingSeasonOutlook, { season: season.id as RecordId, sources: sources ?? null });
  return (
    <Asked query={query}>
      {({ flown, loops }) =>
        isCompared && loops ? (
          <p role="alert">{say('places.loops')}</p>
        ) : (
          <div className="stack tight whole">
            <BookTable
              label={title}
              rows={flown}
              columns={columnsOf(season, isCompared)}
              rowKey={({ queen }) => queen}
            />
            {isCompared ? <p className="note">{say('places.changes-what')}</p> : null}
          </div>
        )
      }
    </Asked>
  );
}
