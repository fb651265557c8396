/** Volume of semen, diluent or suspension in microlitres (1 µl = 1 mm³). */
export type Microlitre = number & { readonly __unit: 'µl' };
/** A length in millimetres. */
export type Millimetre = number & { readonly __unit: 'mm' };

export const microlitres = (value: number): Microlitre => value as Microlitre;
export const millimetres = (value: number): Millimetre => value as Millimetre;
