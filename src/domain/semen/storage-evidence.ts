/** What can be found about semen that was kept: is it alive, or does it still do its work in a queen? Two kinds, never one number. */
export type EvidenceKind = 'viability' | 'function';

/** A finding: a word the screens have a sentence for. */
export type Finding =
  | 'alive'
  | 'alive-between'
  | 'none-alive'
  | 'motile-many'
  | 'motile-few'
  | 'still-motile'
  | 'brood-as-fresh'
  | 'not-tested'
  | 'fewer-sperm-stored'
  | 'fertile-once-shown'
  | 'no-loss-by-practice'
  | 'worker-brood';

/**
 * One stretch of age. `low` and `high` are fractions 0-1 (equal for one figure; the two figures on either side of a fall nobody
 * measured inside, so nothing is interpolated); null where the finding is in words only. Ages in days, both ends included.
 */
export type EvidenceStep = {
  fromDay: number;
  toDay: number;
  finding: Finding;
  low: number | null;
  high: number | null;
};

/** One published (or practice) source, with the conditions it holds for; `celsius` null = not said. */
export type StorageEvidence = {
  key: string;
  kind: EvidenceKind;
  source: string;
  diluted: boolean | null;
  frozen: boolean;
  celsius: { from: number; to: number } | null;
  steps: readonly EvidenceStep[];
};

const WEEK = 7;
const ROOM = { from: 18, to: 25 };

function step(fromDay: number, toDay: number, finding: Finding, low: number | null = null, high = low): EvidenceStep {
  return { fromDay, toDay, finding, low, high };
}

const collins2000 = {
  kind: 'viability' as const,
  source: 'Collins 2000, J. Econ. Entomol. 93(3), abstract: pooled, diluted semen in sealed capillaries',
  diluted: true,
  frozen: false,
};

/** The same readings for 12 and 25 °C up to week 39; the fall in week 52 was seen at 25 °C only. */
const upToWeek39 = [
  step(0, 6 * WEEK, 'alive', 0.8),
  step(6 * WEEK + 1, 9 * WEEK - 1, 'alive-between', 0.58, 0.8),
  step(9 * WEEK, 39 * WEEK, 'alive', 0.58),
];

/**
 * The evidence on stored semen (trade-facts §3.4), source by source. Stepwise on purpose: 80 → 58 % within three weeks and
 * then 58 % for thirty more is no exponential.
 */
export const storageEvidence: readonly StorageEvidence[] = [
  {
    ...collins2000,
    key: 'collins-2000-warm',
    celsius: { from: 18, to: 26 },
    steps: [
      ...upToWeek39,
      step(39 * WEEK + 1, 52 * WEEK - 1, 'alive-between', 0.189, 0.58),
      step(364, 364, 'alive', 0.189),
    ],
  },
  { ...collins2000, key: 'collins-2000-cool', celsius: { from: 11, to: 17 }, steps: upToWeek39 },
  {
    key: 'rajamohan-2020-undiluted',
    kind: 'viability',
    source: 'Rajamohan et al. 2020, Cryobiology: undiluted, 14.0 ± 0.2 °C; 60.8 ± 12.3 % after 60 d',
    diluted: false,
    frozen: false,
    celsius: { from: 12, to: 16 },
    steps: [step(60, 60, 'alive', 0.608)],
  },
  {
    key: 'rajamohan-2020-diluted',
    kind: 'viability',
    source:
      'Rajamohan et al. 2020, Cryobiology: 14.0 ± 0.2 °C, 60 d; 22.0 ± 7.8 % in a non-activating, 0.0 % in a conventional diluent',
    diluted: true,
    frozen: false,
    celsius: { from: 12, to: 16 },
    steps: [step(60, 60, 'alive-between', 0, 0.22)],
  },
  {
    key: 'warm-1960-undiluted',
    kind: 'viability',
    source: 'J. Econ. Entomol. 53:266-269 (1960): undiluted, flame-sealed, 35 °C',
    diluted: false,
    frozen: false,
    celsius: { from: 30, to: 36 },
    steps: [step(22, 22, 'motile-many'), step(34, 34, 'motile-few')],
  },
  {
    key: 'warm-1960-diluted',
    kind: 'viability',
    source: 'J. Econ. Entomol. 53:266-269 (1960): diluted, 35 °C; motile for 5-10 d',
    diluted: true,
    frozen: false,
    celsius: { from: 30, to: 36 },
    steps: [step(0, 5, 'still-motile'), step(6, 10, 'motile-few')],
  },
  {
    key: 'one-year-16',
    kind: 'viability',
    source: 'Paillard 2016, thesis, Université Laval: one year at 16 °C, none alive',
    diluted: null,
    frozen: false,
    celsius: { from: 15, to: 17 },
    steps: [step(365, 365, 'none-alive', 0)],
  },
  {
    key: 'one-year-frozen',
    kind: 'viability',
    source: 'Paillard 2016, thesis, Université Laval: one year at −196 °C, 76 ± 5 %',
    diluted: true,
    frozen: true,
    celsius: null,
    steps: [step(0, 365, 'alive', 0.76)],
  },
  {
    key: 'frozen-thawed',
    kind: 'viability',
    source: 'Rajamohan et al. 2020, Cryobiology: after thawing 67.6 ± 10.9 % in the best non-activating diluent',
    diluted: true,
    frozen: true,
    celsius: null,
    steps: [step(0, 365, 'alive', 0.676)],
  },
  {
    key: 'collins-2005',
    kind: 'function',
    source:
      'Collins 2005, J. Apic. Res. 44:141-145, room temperature: fewer sperm stored from 4 weeks on, though viability was high at 8',
    diluted: null,
    frozen: false,
    celsius: ROOM,
    steps: [
      step(0, 2 * WEEK, 'brood-as-fresh'),
      step(2 * WEEK + 1, 4 * WEEK - 1, 'not-tested'),
      step(4 * WEEK, 8 * WEEK, 'fewer-sperm-stored'),
    ],
  },
  {
    key: 'hopkins-2017',
    kind: 'function',
    source:
      'Hopkins et al. 2017, Reprod. Fertil. Dev. 29:944-949, abstract: undiluted, coated tubes, 14 °C; fertile at 439 d (also 45, 99), better than diluted each time',
    diluted: false,
    frozen: false,
    celsius: { from: 12, to: 16 },
    steps: [step(0, 439, 'fertile-once-shown')],
  },
  {
    key: 'practice-weeks',
    kind: 'function',
    source:
      'Cobey et al. 2013, J. Apic. Res. 52(4), §5.2, practice statement: several weeks at room temperature in sealed capillaries without significant loss; others say about 2 weeks',
    diluted: null,
    frozen: false,
    celsius: ROOM,
    steps: [step(0, 2 * WEEK, 'no-loss-by-practice')],
  },
  {
    key: 'frozen-brood',
    kind: 'function',
    source:
      'Kaftanoglu & Peng 1984 and Rajamohan et al. 2020: 47 to 75 % worker brood from frozen semen (95-99 % from fresh)',
    diluted: true,
    frozen: true,
    celsius: null,
    steps: [step(0, 365, 'worker-brood', 0.47, 0.75)],
  },
];
