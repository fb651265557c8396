/** Standard atomic weights, g/mol: abridged values of IUPAC 2021 (Pure Appl. Chem. 94:573; from memory, all digits textbook). */
const weights: Readonly<Record<string, number>> = {
  H: 1.008,
  C: 12.011,
  N: 14.007,
  O: 15.999,
  Na: 22.99,
  Mg: 24.305,
  P: 30.974,
  S: 32.06,
  Cl: 35.45,
  K: 39.098,
  Ca: 40.078,
};

/**
 * Molar mass of a plain sum formula (no brackets, water of crystals written out), g/mol.
 * Throws on an element it does not know or a formula it cannot read.
 * @example molarMass('NaCl') // 58.44
 */
export function molarMass(formula: string): number {
  const parts = [...formula.matchAll(/([A-Z][a-z]?)(\d*)/g)];
  if (parts.length === 0 || parts.map(([whole]) => whole).join('') !== formula) {
    throw new RangeError(`not a sum formula: ${formula}`);
  }
  return parts.reduce((sum, [, element = '', count]) => {
    const weight = weights[element];
    if (weight === undefined) throw new RangeError(`unknown element in ${formula}: ${element}`);
    return sum + weight * (count === '' ? 1 : Number(count));
  }, 0);
}
