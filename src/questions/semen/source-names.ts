import { type MotherPart, mothersOf } from '#domain/semen/contents.ts';
import type { DroneSource } from '#domain/semen/drone-source.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';

export const nameReads = [
  'queen',
  'line',
  'sister_group',
  'graft_cell',
  'graft',
] as const satisfies readonly KindName[];

/** What drone mothers, groups and lines are called, by id; and the line of each queen. */
export type SourceNames = { names: Readonly<Record<string, string>>; lines: Readonly<Record<string, string>> };

/** Part of some semen by its drone mother, as it is read: `name` is empty for strangers. */
export type NamedPart = {
  kind: DroneSource['kind'];
  /** Her id, where it is one mother. */
  queen: string | null;
  name: string;
  line: string | null;
  share: number;
  semen: number;
  drones: number;
};

/** Reads what everybody is called: a queen by her code, else by bar and cell, else by the beginning of her id. */
export async function gatherNames(facts: Facts): Promise<SourceNames> {
  const cells = new Map((await facts.find('graft_cell')).map((cell) => [cell.id, cell]));
  const grafts = new Map((await facts.find('graft')).map((graft) => [graft.id, graft.code]));
  const lineNames = new Map((await facts.find('line')).map(({ id, name }) => [id, name]));
  const names: Record<string, string> = Object.fromEntries(lineNames);
  const lines: Record<string, string> = {};
  for (const { id, code } of await facts.find('sister_group')) names[id] = code;
  for (const { id, code, cell, line } of await facts.find('queen')) {
    const bar = cell === null ? undefined : cells.get(cell);
    names[id] = code ?? (bar === undefined ? id.slice(0, 8) : `${grafts.get(bar.graft) ?? ''} ${bar.position}`.trim());
    const own = line === null ? undefined : lineNames.get(line);
    if (own !== undefined) lines[id] = own;
  }
  return { names, lines };
}

/** What a source is called; several possible mothers are named one after the other. Strangers have no name. */
export function nameOfSource(of: DroneSource, names: SourceNames['names']): string {
  switch (of.kind) {
    case 'mother':
      return names[of.queen] ?? '–';
    case 'sister-group':
      return names[of.group] ?? '–';
    case 'line':
      return names[of.line] ?? '–';
    case 'open':
      return '';
    case 'either':
      return of.options.map((option) => nameOfSource(option.of, names)).join(' / ');
  }
}

/** Parts of semen with the names a person knows. */
export const namedParts = (parts: readonly MotherPart[], { names, lines }: SourceNames): NamedPart[] =>
  parts.map(({ of, share, semen, drones }) => ({
    kind: of.kind,
    queen: of.kind === 'mother' ? of.queen : null,
    name: nameOfSource(of, names),
    line: of.kind === 'mother' ? (lines[of.queen] ?? null) : null,
    share,
    semen,
    drones,
  }));

/** The mothers in a whole tube, over all its layers, the largest part first. */
export function mothersOfLayers(layers: readonly { mothers: readonly MotherPart[] }[]): MotherPart[] {
  const parts = layers.flatMap(({ mothers }) => mothers);
  return mothersOf(
    parts.map((part) => ({
      catch: '',
      of: part.of,
      semen: part.semen,
      squares: part.effective > 0 ? (part.semen * part.semen) / part.effective : 0,
      drones: part.drones,
      guessed: part.guessed,
    })),
    new Map(),
  );
}
