import type { DroneSource } from '#domain/semen/drone-source.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { groupBy } from '#units/group-by.ts';

export const droneSideReads = ['cross_drone_source', 'queen'] as const satisfies readonly KindName[];

/** The drone side of a cross: as it is asked for, and every queen of an asked-for line or sister group besides. */
export type DroneSide = {
  asked: readonly { of: DroneSource; share: number | null }[];
  /** Sources that count as asked for. */
  fitting: readonly DroneSource[];
};

const sourceOf = ({ queen, sister_group, line }: Row<'cross_drone_source'>): DroneSource => {
  if (queen !== null) return { kind: 'mother', queen };
  if (sister_group !== null) return { kind: 'sister-group', group: sister_group };
  return line === null ? { kind: 'open' } : { kind: 'line', line };
};

/** The drone side of every cross that has one. A cross that asks for a line takes drones of any queen of that line. */
export async function gatherDroneSides(facts: Facts): Promise<Map<string, DroneSide>> {
  const rows = groupBy(await facts.find('cross_drone_source'), ({ cross }) => cross);
  const queens = await facts.find('queen');
  const sides = new Map<string, DroneSide>();
  for (const [cross, sources] of rows) {
    const asked = sources.map((row) => ({ of: sourceOf(row), share: row.share }));
    const lines = new Set(sources.flatMap(({ line }) => (line === null ? [] : [line])));
    const groups = new Set(sources.flatMap(({ sister_group }) => (sister_group === null ? [] : [sister_group])));
    const members = queens
      .filter(
        ({ line, sister_group }) =>
          (line !== null && lines.has(line)) || (sister_group !== null && groups.has(sister_group)),
      )
      .map(({ id }): DroneSource => ({ kind: 'mother', queen: id }));
    sides.set(cross, { asked, fitting: [...asked.map(({ of }) => of), ...members] });
  }
  return sides;
}
