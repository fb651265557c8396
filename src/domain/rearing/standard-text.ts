import { figure, ranged } from './figure.ts';
import type { BiologyProfile } from './profile.ts';

const STAGES = 'stage table of a state apiary service, agreeing with Winston 1987, The Biology of the Honey Bee';
const COBEY = 'Cobey, Tarpy and Woyke 2013, J. Apic. Res. 52(4)';
const BUCHLER = 'Büchler et al. 2013, J. Apic. Res. 52(1), 10.3896/IBRA.1.52.1.07';
const RHODES = 'Rhodes et al. 2011, Apidologie 42:29-38, 10.1051/apido/2010026';
const NONE = 'no published figure found: an estimate to be replaced by your own records';

/**
 * The published figures, middle values, with their sources. Where sources disagree the range says so.
 * Comb lead 2 days: a drawn comb given to a nest already raising drones, cleaned and laid from the second day.
 */
export const standardText: BiologyProfile = {
  name: 'standard-text',
  timings: {
    graftToEmergence: ranged({ value: 12, low: 11, high: 13 }, 'published', `trade timetables; 16 - 4 of ${STAGES}`),
    graftToSealed: ranged({ value: 5, low: 4, high: 5 }, 'published', STAGES),
    graftToRipe: figure(10, 'common practice', 'common practice: one to two days before emergence'),
    queenEggToEmergence: ranged({ value: 16, low: 15, high: 17 }, 'published', STAGES),
    droneEggToSealed: figure(10, 'published', STAGES),
    droneEggToEmergence: ranged({ value: 24, low: 23, high: 25 }, 'published', STAGES),
    workerEggToEmergence: ranged({ value: 21, low: 19, high: 22 }, 'published', STAGES),
    workerEggToSealed: figure(9, 'published', STAGES),
    combLead: ranged({ value: 2, low: 2, high: 7 }, 'common practice', 'common practice'),
    starterLead: figure(2, 'common practice', 'common practice'),
  },
  survivals: {
    accepted: ranged({ value: 0.8, low: 0.6, high: 0.95 }, 'published', `${BUCHLER} section 2.1.7: 80 % or more`),
    emergedQueens: ranged({ value: 0.9, low: 0.75, high: 0.98 }, 'common practice', NONE),
    readyQueens: ranged(
      { value: 0.88, low: 0.75, high: 0.97 },
      'published',
      'holding study 2019-21, 10.30917/att-vk-1814-9588-2021-5-17: 5-20 % of virgins lost before insemination',
    ),
    layingQueens: ranged(
      { value: 0.73, low: 0.6, high: 0.9 },
      'published',
      'Kairo et al. 2016, Sci. Rep. 6:31904: 28 and 30 of 40 alive at two weeks; J. Apic. Sci. 56(1):125: 88 % laid',
    ),
    cellsLaid: ranged({ value: 0.5, low: 0.25, high: 0.8 }, 'common practice', NONE),
    emergedDrones: ranged({ value: 0.8, low: 0.6, high: 0.95 }, 'common practice', NONE),
    dronesAtFourteen: ranged(
      { value: 0.45, low: 0.3, high: 0.6 },
      'worked out',
      'median adult life about 12 days (drone survival study, J. Apic. Res. c. 1988), constant daily loss',
    ),
    caughtDrones: ranged({ value: 0.6, low: 0.4, high: 0.8 }, 'common practice', NONE),
    yielding: ranged({ value: 0.595, low: 0.5, high: 0.7 }, 'published', `${RHODES}: 40.5 % gave none`),
  },
  yields: {
    perDrone: ranged({ value: 1.09, low: 0.72, high: 1.12 }, 'published', `${RHODES}: mean and range of group means`),
    perDroneVariation: ranged(
      { value: 0.6, low: 0.4, high: 0.8 },
      'worked out',
      'sperm per drone in open data of Straub et al. 2016 (Dryad 10.5061/dryad.bs515), taken for volume',
    ),
    dose: ranged({ value: 8, low: 8, high: 12 }, 'published', `${COBEY} section 4.3`),
    leftBehind: ranged({ value: 0.1, low: 0.05, high: 0.15 }, 'common practice', 'common practice: one part in ten'),
    cellsPerComb: ranged(
      { value: 4300, low: 4050, high: 4580 },
      'worked out',
      'Delaplane et al. 2013, J. Apic. Res. 52(1): 2.3-2.6 cells per cm² × 880 cm² a face, both faces',
    ),
  },
  queens: { hard: { from: 5, to: 14 }, preferred: { from: 6, to: 9 }, source: `${COBEY} sections 3.3 and 4.3` },
  drones: {
    hard: { from: 12, to: 28 },
    preferred: { from: 14, to: 21 },
    source: `${COBEY} section 4.1; state primary-industries leaflet DAI/112, 2002 (16 days preferred, below 28)`,
  },
  usual: { queenAge: 8, droneAge: { from: 14, to: 21 }, holdDays: 2 },
};
