import { useNavigate, useParams } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { correctMatingSeason } from '#actions/stock/correct-mating-season.ts';
import { takeBackMatingSeason } from '#actions/stock/take-back-mating-season.ts';
import { type MatingSeasonTold, matingSeasons } from '#questions/stock/mating-seasons.ts';
import type { RecordId } from '#units/record-id.ts';
import { shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { Form } from '../parts/form.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { Problems, sayHere } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { useKeys } from '../shell/keys.ts';
import { Stood } from './mating-places-page.tsx';
import { draftOfSeason, type SeasonDraft, SeasonFields, sourcesOfDraft } from './season-fields.tsx';
import { SeasonOutlook } from './season-outlook.tsx';
import { StockNav } from './stock-nav.tsx';

type SeasonProps = { season: MatingSeasonTold };

function daysWords({ from, to }: MatingSeasonTold): string | null {
  if (from !== null && to !== null) return say('places.stood-days', { from: shortDay(from), to: shortDay(to) });
  if (from !== null) return say('places.stood-from', { from: shortDay(from) });
  return to === null ? null : say('places.stood-to', { to: shortDay(to) });
}

/** What is written of the season, in pairs of a word and a fact. */
function Written({ season }: SeasonProps) {
  const days = daysWords(season);
  return (
    <dl className="now">
      <div>
        <dt>{say('places.mothers')}</dt>
        <dd>{season.mothers === 0 ? say('places.nobody-stood') : <Stood {...season} />}</dd>
      </div>
      {days === null ? null : (
        <div>
          <dt>{say('places.stood')}</dt>
          <dd>{days}</dd>
        </div>
      )}
      <div>
        <dt>{say('places.trusted')}</dt>
        <dd>{say(`places.trusted.${season.trusted ?? 'unsaid'}`)}</dd>
      </div>
    </dl>
  );
}

const stoodIn = ({ mothers }: SeasonDraft) =>
  mothers
    .map(({ id }) => id)
    .sort()
    .join(' ');

/** Corrects what is written of a season; what follows for kinship is shown before it is kept. */
function CorrectSeason({ season, onDone }: SeasonProps & { onDone: () => void }) {
  const { run, problems, busy } = useDo();
  const [draft, setDraft] = useState(() => draftOfSeason(season));
  const isOther = stoodIn(draft) !== stoodIn(draftOfSeason(season));
  const sources = sourcesOfDraft(draft);
  const keep = async () => {
    const { place, year, from, to, trusted } = draft;
    const did = await run(correctMatingSeason, {
      season: season.id as RecordId,
      place,
      year: year as number,
      stood_from: from,
      stood_to: to,
      trusted: trusted === '' ? null : trusted,
      ...(isOther ? { sources } : {}),
    });
    if ('problems' in did) return;
    const words = isOther && season.mated > 0 ? 'places.corrected-kinship' : 'places.corrected';
    const said = say(words, { place, year: String(year), n: season.mated });
    tell([said, ...did.warnings.map(sayHere)].join(' '));
    onDone();
  };
  return (
    <div className="sheet">
      <Form act={say('places.correct-keep')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
        <SeasonFields
          draft={draft}
          put={(some) => setDraft((before) => ({ ...before, ...some }))}
          placeHint={say('places.place-hint')}
        />
        {season.mated === 0 ? null : (
          <>
            <h2>{say(isOther ? 'places.changes' : 'places.follows')}</h2>
            <SeasonOutlook
              title={say(isOther ? 'places.changes' : 'places.mated')}
              season={season}
              {...(isOther ? { sources } : {})}
            />
          </>
        )}
      </Form>
    </div>
  );
}

/** Takes the season back; while queens are mated there it says who, what would change, and offers to leave their matings open. */
function useTakeBack(season: MatingSeasonTold) {
  const navigate = useNavigate();
  const { run, problems, busy, clear } = useDo();
  const { place, mated } = season;
  const takeBack = async (flights_stay_open: boolean) => {
    const did = await run(takeBackMatingSeason, { season: season.id as RecordId, flights_stay_open });
    if ('problems' in did) return;
    const words = mated > 0 ? 'places.taken-back-open' : 'places.taken-back';
    tell(say(words, { place, year: String(season.year), n: mated }));
    await navigate({ to: '/stock/places' });
  };
  return { takeBack, problems, busy, clear };
}

type RefusedProps = SeasonProps & Pick<ReturnType<typeof useTakeBack>, 'takeBack' | 'problems' | 'busy' | 'clear'>;

function NotTakenBack({ season, takeBack, problems, busy, clear }: RefusedProps) {
  if (problems.length === 0) return null;
  const isFlownTo = problems.some(({ code }) => code === 'season-flown-to');
  return (
    <section className="stack" aria-labelledby="taking-back">
      <h2 id="taking-back">{say('places.take-back')}</h2>
      <Problems problems={problems} title={say('places.not-taken-back')} />
      {isFlownTo ? (
        <>
          <p>{say('places.flights-open-what', { n: season.mated })}</p>
          <h3>{say('places.changes-open')}</h3>
          <SeasonOutlook title={say('places.changes-open')} season={season} sources={null} />
          <div className="cluster">
            <button type="button" className="button main" aria-disabled={busy} onClick={() => void takeBack(true)}>
              {say('places.flights-open')}
            </button>
            <button type="button" className="button" onClick={clear}>
              {say('form.leave')}
            </button>
          </div>
        </>
      ) : null}
    </section>
  );
}

/** The queens mated there, with what kinship says of them as the season stands. */
function RestsOnIt({ season }: SeasonProps) {
  return (
    <section className="stack" aria-labelledby="follows">
      <h2 id="follows">{say('places.follows')}</h2>
      <p>{say(season.mated === 0 ? 'places.flown-none' : 'places.follows-what')}</p>
      {season.mated === 0 ? null : <SeasonOutlook title={say('places.mated')} season={season} />}
    </section>
  );
}

function Season({ season }: SeasonProps) {
  const [correcting, setCorrecting] = useState(false);
  const back = useTakeBack(season);
  const { clear } = back;
  useKeys(
    useMemo(
      () => ({
        E: () => {
          clear();
          setCorrecting(true);
        },
      }),
      [clear],
    ),
  );
  return (
    <article className="stack">
      <h1>{say('places.season', { place: season.place, year: String(season.year) })}</h1>
      <Written season={season} />
      <div className="cluster">
        <button
          type="button"
          className="button"
          aria-expanded={correcting}
          onClick={() => {
            back.clear();
            setCorrecting((before) => !before);
          }}
        >
          {say('places.correct')} <kbd>E</kbd>
        </button>
        <button
          type="button"
          className="button"
          onClick={() => {
            setCorrecting(false);
            void back.takeBack(false);
          }}
        >
          {say('places.take-back')}
        </button>
      </div>
      <NotTakenBack season={season} {...back} />
      {correcting ? <CorrectSeason season={season} onDone={() => setCorrecting(false)} /> : null}
      {correcting || back.problems.length > 0 ? null : <RestsOnIt season={season} />}
    </article>
  );
}

/** The leaf of one season of a mating place: what stood there, who flew there, what rests on it; corrected and taken back here. */
export function MatingSeasonPage() {
  const { id } = useParams({ strict: false }) as { id: string };
  const query = useAsk(matingSeasons, { today: today() });
  return (
    <section className="stack">
      <StockNav />
      <Asked query={query}>
        {({ seasons }) => {
          const season = seasons.find((each) => each.id === id);
          return season === undefined ? <NoPage /> : <Season season={season} key={season.id} />;
        }}
      </Asked>
    </section>
  );
}
