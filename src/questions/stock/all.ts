import { chooseOthers } from './choose-others.ts';
import { chooseQueens } from './choose-queens.ts';
import { kinshipGrid, kinshipOfTwo } from './kinship.ts';
import { lineStandings } from './lines.ts';
import { matingSeasonOutlook } from './mating-season-outlook.ts';
import { matingSeasons } from './mating-seasons.ts';
import { queenLeaf } from './queen-leaf.ts';
import { rehearseImport } from './rehearse-import.ts';
import { sisterGroups } from './sister-groups.ts';
import { stockBook } from './stock-book.ts';

import { worthFacts } from './worth-facts.ts';
import { varianceRuns, worthRuns } from './worth-runs.ts';

/** What a person can ask in Stock. */
export const stockQuestions = [
  chooseOthers,
  chooseQueens,
  kinshipGrid,
  kinshipOfTwo,
  lineStandings,
  matingSeasons,
  matingSeasonOutlook,
  queenLeaf,
  rehearseImport,
  sisterGroups,
  stockBook,
  varianceRuns,
  worthFacts,
  worthRuns,
];
