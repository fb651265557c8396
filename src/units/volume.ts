/** Volume of semen, diluent or suspension in microlitres (1 µl = 1 mm³). */
export type Microlitre = number & { readonly __unit: 'µl' };
/** A length in millimetres. */
export type Millimetre = number & { readonly __unit: 'mm' };

export const microlitres = (value: number): Microlitre => value as Microlitre;
export const millimetres = (value: number): Millimetre => value as Millimetre;

/** The two code points that both mean micro; what we print is always U+00B5 (the type faces hold that one). */
const MICRO_SIGNS = /[µμ]/g;
export const microSign = (text: string): string => text.replace(MICRO_SIGNS, 'µ');
