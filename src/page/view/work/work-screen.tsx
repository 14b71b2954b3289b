// One work: its head, the tasks, what goes on, and the task that is open.

import { BlockInSight } from '../block/block-in-sight.tsx';
import { BlockFacts } from '../block/block-numbers.tsx';
import { BlockPane } from '../block/block-pane.tsx';
import { CompareScreen } from '../compare/compare-screen.tsx';
import { FabricScreen } from '../fabric/fabric-screen.tsx';
import { HandPanel } from '../hand/hand-panel.tsx';
import { PaperScreen } from '../paper/paper-screen.tsx';
import { RefusalNote } from '../parts/refusal.tsx';
import { FirstDesigns } from '../picture/first-designs.tsx';
import { PicturePane } from '../picture/picture-pane.tsx';
import { PictureQuestions } from '../picture/picture-questions.tsx';
import { SewScreen } from '../sew/sew-screen.tsx';
import type { Task } from '../store/address.ts';
import { usePart } from '../store/state.ts';
import { StatusLine } from './status-line.tsx';
import { TaskLinks } from './task-links.tsx';
import { WorkHead } from './work-head.tsx';

export function WorkScreen({ id, task }: { readonly id: string; readonly task: Task }) {
  const work = usePart((s) => (s.work?.id === id ? s.work : undefined));
  const refusal = usePart((s) => s.refusal);
  if (!work)
    return (
      <main id="main" class="work" tabIndex={-1}>
        <h1 class="visually-hidden">A work</h1>
        <p role="status" class="opening">
          {refusal ? '' : 'Opening the work …'}
        </p>
        <RefusalNote />
      </main>
    );
  const side = task === 'picture' || task === 'hand';
  return (
    <main id="main" class="work" tabIndex={-1}>
      <WorkHead work={work} />
      <TaskLinks id={id} task={task} picture={work.picture !== undefined} />
      <StatusLine work={work} />
      {!side && <RefusalNote />}
      {task === 'picture' && <FirstDesigns key={id} work={work} />}
      {task === 'picture' && (
        <div class={work.picture ? 'bench' : 'bench from-file'}>
          {work.picture && <PicturePane work={work} picture={work.picture} />}
          <BlockPane work={work} />
          <BlockFacts work={work} />
          <PictureQuestions work={work} />
          <BlockInSight work={work} />
        </div>
      )}
      {task === 'hand' && (
        <div class="bench by-hand">
          <BlockPane work={work} />
          <HandPanel work={work} />
          <BlockFacts work={work} />
        </div>
      )}
      {task === 'fabric' && <FabricScreen work={work} />}
      {task === 'paper' && <PaperScreen work={work} />}
      {task === 'sew' && <SewScreen work={work} />}
      {task === 'try' && <CompareScreen work={work} />}
    </main>
  );
}
