/** The name of a part of a cross in a wish: one part for each of its dams, the first called like the cross. */
export const partName = (cross: string, i: number): string => (i === 0 ? cross : `${cross}/${i + 1}`);

/** The cross a part of a wish belongs to. */
export const crossOfPart = (name: string): string => name.split('/')[0] ?? name;
