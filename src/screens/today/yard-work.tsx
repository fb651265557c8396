import type { YardWork } from '#questions/today/today.ts';
import { say } from '#words/say.ts';
import { TaskList } from './task-row.tsx';
import { carryWords } from './task-words.ts';

const allToCarry = ({ carry }: YardWork): string =>
  [...new Set(carry.map(carryWords).filter((words) => words !== ''))].join(', ');

/** The work of one yard: what to bring, then its tasks. */
function OneYard({ work }: { work: YardWork }) {
  const carry = allToCarry(work);
  return (
    <section className="yard-work">
      <h3>{work.yard ?? say('today.no-yard')}</h3>
      {carry === '' ? null : (
        <p className="carry">
          <strong>{say('today.bring')}</strong> {carry}
        </p>
      )}
      <TaskList tasks={work.lines} />
    </section>
  );
}

/** Work of several yards, in walking order. */
export function YardsWork({ yards }: { yards: readonly YardWork[] }) {
  return (
    <div className="yards">
      {yards.map((work) => (
        <OneYard key={work.yard ?? ''} work={work} />
      ))}
    </div>
  );
}
