import { molarMass } from './molar-mass.ts';

/** A substance of a diluent: name, sum formula, grams a litre, particles one formula unit falls into in water. */
export type Component = { name: string; formula: string; gramsPerLitre: number; particles: number };

/** What is said where a diluent is made up. */
export type LaboratoryCaution =
  | 'chemicals'
  | 'acid-and-base'
  | 'sterile-filter'
  | 'antibiotics-recorded-never-advised'
  | 'stains-are-harmful'
  | 'glass'
  | 'local-codes';

/** A published diluent. Antibiotics are no part of it: they are recorded with the batch, never advised. */
export type Recipe = {
  name: string;
  source: string;
  /** Final pH, null where the source says none. */
  ph: number | null;
  components: readonly Component[];
};

/**
 * Published diluents, by the g/L column of their source. Printed millimolar columns are not used: one of them divides
 * sodium chloride by a wrong molar mass.
 */
export const recipes: readonly Recipe[] = [
  {
    name: 'tris-buffered',
    source: 'University extension page on instrumental insemination, credited to S. Cobey; final pH 8.6',
    ph: 8.6,
    components: [
      { name: 'sodium chloride', formula: 'NaCl', gramsPerLitre: 11, particles: 2 },
      { name: 'D-glucose', formula: 'C6H12O6', gramsPerLitre: 1, particles: 1 },
      { name: 'L-lysine', formula: 'C6H14N2O2', gramsPerLitre: 0.1, particles: 1 },
      { name: 'L-arginine', formula: 'C6H14N4O2', gramsPerLitre: 0.1, particles: 1 },
      { name: 'Tris base', formula: 'C4H11NO3', gramsPerLitre: 3.29, particles: 1 },
      { name: 'Tris hydrochloride', formula: 'C4H12NO3Cl', gramsPerLitre: 3.29, particles: 2 },
    ],
  },
  {
    name: 'simple',
    source: 'Classic simple saline as printed on a breeders’ archive page (12.5 g/L)',
    ph: null,
    components: [{ name: 'sodium chloride', formula: 'NaCl', gramsPerLitre: 12.5, particles: 2 }],
  },
  {
    name: 'physiological',
    source: 'Physiological saline, 8.5-9 g/L (Mackensen & Tucker 1970, USDA Agriculture Handbook 390; from memory)',
    ph: null,
    components: [{ name: 'sodium chloride', formula: 'NaCl', gramsPerLitre: 9, particles: 2 }],
  },
];

/** A recipe made up to a volume: grams to weigh in, millimolar by molar mass, and what to mind. */
export type Saline = {
  recipe: string;
  source: string;
  millilitres: number;
  ph: number | null;
  components: readonly { name: string; formula: string; molarMass: number; grams: number; millimolar: number }[];
  /** mOsm/L of an ideal solution: every particle counted. */
  osmolarity: number;
  cautions: readonly LaboratoryCaution[];
};

/** The recipe of a name, or null. */
export const recipeNamed = (name: string): Recipe | null => recipes.find((recipe) => recipe.name === name) ?? null;

/**
 * A recipe scaled to a volume. Grams = g/L × volume; millimolar = g/L ÷ molar mass × 1000, computed from the sum formula.
 * Make up to the final volume, do not add to it. Throws unless the volume is > 0 ml.
 * @example makeSaline(recipe, 100).components[0] // sodium chloride, 1.1 g, 188.2 mM
 */
export function makeSaline(recipe: Recipe, millilitres: number): Saline {
  if (!(millilitres > 0)) throw new RangeError(`not a volume: ${millilitres} ml`);
  const components = recipe.components.map(({ name, formula, gramsPerLitre }) => {
    const mass = molarMass(formula);
    const grams = (gramsPerLitre * millilitres) / 1000;
    return { name, formula, molarMass: mass, grams, millimolar: (gramsPerLitre / mass) * 1000 };
  });
  const osmolarity = components.reduce(
    (sum, one, i) => sum + one.millimolar * (recipe.components[i]?.particles ?? 1),
    0,
  );
  const cautions: LaboratoryCaution[] = [
    'chemicals',
    'sterile-filter',
    'antibiotics-recorded-never-advised',
    'local-codes',
  ];
  if (recipe.ph !== null) cautions.unshift('acid-and-base');
  const { name, source, ph } = recipe;
  return { recipe: name, source, millilitres, ph, components, osmolarity, cautions };
}
