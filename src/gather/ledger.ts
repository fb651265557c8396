import type { DroneCatch, DroneSource } from '#domain/semen/drone-source.ts';
import { readLedger } from '#domain/semen/ledger.ts';
import type { LedgerAct, LedgerLine, Mixing, Tube, TubeEnd } from '#domain/semen/ledger-line.ts';
import { type LedgerAssumptions, type LedgerStory, USUAL_ASSUMPTIONS } from '#domain/semen/ledger-story.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { dayOfMoment, type Moment, momentOn, zoneOf } from '#units/moment.ts';
import { microlitres } from '#units/volume.ts';
import { type CatchQuestion, catchReads, gatherCatches } from './catches.ts';

export const ledgerReads = [...catchReads, 'tube', 'ledger_line'] as const satisfies readonly KindName[];

const end = (written: Row<'ledger_line'>['end']): TubeEnd => written ?? 'filled';
const volume = (written: number | null) => microlitres(written ?? 0);
const volumeOrAll = (written: number | null) => (written === null ? null : microlitres(written));

/** What lines are read with: how the semen of a tube lies, whose the parts of a catch are, the day of each catch. */
type Beside = {
  mixing: ReadonlyMap<string, Mixing | null>;
  parts: ReadonlyMap<string, DroneSource>;
  days: ReadonlyMap<string, Day>;
};

/** When received semen was collected: noon of the day its sender says; not known where that is not before the day it came. */
function collectedAt(row: Row<'ledger_line'>, days: Beside['days']): Moment | null {
  const day = days.get(row.catch ?? '');
  if (day === undefined || day >= dayOfMoment(row.moment)) return null;
  return momentOn(day, '12:00', zoneOf(row.moment));
}

/** A line as it is written down, as the step the ledger's arithmetic knows. */
function actOf(row: Row<'ledger_line'>, { mixing, parts, days }: Beside): LedgerAct {
  switch (row.step) {
    case 'collected':
      return {
        kind: 'collected',
        catch: row.catch ?? '',
        of: row.source === null ? null : (parts.get(row.source) ?? null),
        microlitres: volumeOrAll(row.volume_ul),
        end: end(row.end),
        drones: row.drones,
        volumes: null,
      };
    case 'drawn-over':
      return {
        kind: 'drawn-over',
        from: row.from_tube ?? '',
        fromEnd: end(row.from_end),
        microlitres: volume(row.volume_ul),
        end: end(row.end),
      };
    case 'received':
      return {
        kind: 'received',
        catch: row.catch ?? '',
        microlitres: volume(row.volume_ul),
        semen: volume(row.semen_ul ?? row.volume_ul),
        mixing: mixing.get(row.tube) ?? 'unknown',
        end: end(row.end),
        drones: row.drones,
        volumes: null,
        collectedAt: collectedAt(row, days),
      };
    case 'diluent':
      return { kind: 'diluent', microlitres: volume(row.volume_ul), end: end(row.end) };
    case 'spun-off':
      return { kind: 'spun-off', microlitres: volume(row.volume_ul), semen: volume(row.semen_ul) };
    case 'dose':
      return { kind: 'dose', microlitres: volume(row.volume_ul), end: end(row.end) };
    case 'lost':
    case 'broken':
      return { kind: row.step, microlitres: volumeOrAll(row.volume_ul), end: row.end };
    case 'sent':
      return { kind: 'sent', microlitres: volumeOrAll(row.volume_ul), end: end(row.end) };
    case 're-measured':
      return { kind: 're-measured', microlitres: volume(row.volume_ul) };
    default:
      return { kind: row.step };
  }
}

/** What all tubes hold and held, worked out in one pass over their ledgers. */
export type GatheredLedger = {
  story: LedgerStory;
  catches: ReadonlyMap<string, DroneCatch>;
  /** Catches whose mother the breeder has to say. */
  asked: readonly CatchQuestion[];
  tubes: readonly Row<'tube'>[];
  lines: readonly Row<'ledger_line'>[];
  /** What `story` was read from, for a device that has to read it on by itself. */
  facts: { tubes: readonly Tube[]; lines: readonly LedgerLine[]; catches: ReadonlyMap<string, DroneCatch> } & {
    assumptions: LedgerAssumptions;
  };
};

/** Reads every tube's ledger. A tube's own `mixing` says what to assume where the ledger leaves it open. */
export async function gatherLedger(facts: Facts): Promise<GatheredLedger> {
  const tubes = await facts.find('tube');
  const lines = (await facts.find('ledger_line')).sort((a, b) => a.place - b.place || (a.id < b.id ? -1 : 1));
  const { catches, asked, parts, days } = await gatherCatches(facts);
  const beside: Beside = {
    mixing: new Map(tubes.map((tube) => [tube.id as string, tube.mixing])),
    parts,
    days,
  };
  const written = lines.map(
    (row): LedgerLine => ({
      id: row.id,
      tube: row.tube,
      at: row.moment,
      person: row.person,
      corrects: row.corrects,
      act: actOf(row, beside),
    }),
  );
  const assumed = new Map(tubes.flatMap(({ id, mixing: chosen }) => (chosen === null ? [] : [[id, chosen] as const])));
  const read = {
    tubes: tubes.map(({ id, form }): Tube => ({ id, form })),
    lines: written,
    catches,
    assumptions: { ...USUAL_ASSUMPTIONS, tubes: assumed },
  };
  return { story: readLedger(read), catches, asked, tubes, lines, facts: read };
}
