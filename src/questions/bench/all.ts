import { benchBoard } from './bench-board.ts';
import { benchDays } from './bench-days.ts';
import { benchLabels } from './bench-labels.ts';
import { benchSummary } from './bench-summary.ts';
import { salineBatches } from './saline-batches.ts';
import { setOut } from './set-out.ts';

/** What a person can ask in Bench. */
export const benchQuestions = [benchBoard, benchDays, benchLabels, benchSummary, salineBatches, setOut];
