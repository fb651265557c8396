import { Link } from '@tanstack/react-router';
import type { TaskLine } from '#questions/today/task-line.ts';
import { say, type WordId } from '#words/say.ts';

type Door = { to: string; words: WordId };

const combs: Door = { to: '/rearing', words: 'task-door.combs' };
const newComb: Door = { to: '/rearing/comb/new', words: 'task-door.new-comb' };
const newBar: Door = { to: '/rearing/graft/new', words: 'task-door.new-bar' };
const bars: Door = { to: '/rearing', words: 'task-door.bars' };
const bench: Door = { to: '/bench', words: 'task-door.bench' };
const round: Door = { to: '/yard/round', words: 'task-door.round' };

/** Where each kind of task is written down as it is done. */
const doors: Readonly<Record<string, Door>> = {
  'drone-comb-in': newComb,
  'drone-egg-check': combs,
  'drone-brood-out': combs,
  'drones-emerge': combs,
  graft: newBar,
  'cells-out': bars,
  'virgins-emerge': bars,
  'nucs-ready': { to: '/yard', words: 'task-door.yard' },
  'trial-eversion': { to: '/semen/tally', words: 'task-door.tally' },
  'first-co2': { to: '/rearing/virgins', words: 'task-door.co2' },
  inseminate: bench,
  'second-dose': bench,
  release: { to: '/yard/nursing', words: 'task-door.nursing' },
  'release-check': round,
  'egg-check': round,
  'egg-check-2': round,
  'egg-check-3': round,
  'excluder-off': round,
  'brood-check': round,
};

/** The way from a task to where it is written down; nothing for what is done or only ticked. */
export function TaskDoor({ task }: { task: TaskLine }) {
  const door = doors[task.key];
  if (door === undefined || task.state === 'done' || task.state === 'cancelled') return null;
  return <Link to={door.to}>{say(door.words)}</Link>;
}
