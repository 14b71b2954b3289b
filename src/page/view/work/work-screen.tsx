// One work: its bar, and the task that is open.
import { useEffect } from 'preact/hooks';
import type { Work } from '../../api.ts';
import { CompareScreen } from '../compare/compare-screen.tsx';
import { FabricScreen } from '../fabric/fabric-screen.tsx';
import { PaperScreen } from '../paper/paper-screen.tsx';
import { AsideDialog } from '../parts/aside-dialog.tsx';
import { RefusalNote } from '../parts/refusal.tsx';
import { TopBar } from '../parts/top-bar.tsx';
import { FirstDesigns, useOffer } from '../picture/first-designs.tsx';
import { SewScreen } from '../sew/sew-screen.tsx';
import type { Task } from '../store/address.ts';
import { usePart } from '../store/state.ts';
import { Editor } from './editor.tsx';
import { StatusLine } from './status-line.tsx';
import { WorkBar } from './work-bar.tsx';

export function WorkScreen({ id, task: asked }: { readonly id: string; readonly task: Task }) {
  const reads = usePart((s) => s.here?.reads === true);
  // a tablet that looks on sews, or cuts
  const task = reads && asked !== 'fabric' ? 'sew' : asked;
  // another task begins at its top
  useEffect(() => scrollTo(0, 0), [task]);
  const work = usePart((s) => (s.work?.id === id ? s.work : undefined));
  const refusal = usePart((s) => s.refusal);
  if (!work)
    return (
      <>
        <TopBar />
        <main id="main" class="work" tabIndex={-1}>
          <h1 class="visually-hidden">A project</h1>
          <p role="status" class="opening">
            {refusal ? '' : 'Opening the project …'}
          </p>
          <RefusalNote />
        </main>
      </>
    );
  return (
    <>
      <WorkBar work={work} task={task} />
      <main id="main" class={task === 'picture' || task === 'hand' ? 'work edited' : 'work'} tabIndex={-1}>
        <h1 class="visually-hidden">{work.name}</h1>
        <AsideDialog />
        <OpenTask key={`${id} ${task}`} work={work} task={task} />
      </main>
    </>
  );
}

function OpenTask({ work, task }: { readonly work: Work; readonly task: Task }) {
  const offer = useOffer(work);
  if (task === 'picture' && offer) return <FirstDesigns work={work} offer={offer} />;
  if (task === 'picture' || task === 'hand') return <Editor work={work} task={task} />;
  return (
    <>
      <StatusLine work={work} />
      <RefusalNote />
      {task === 'fabric' && <FabricScreen work={work} />}
      {task === 'paper' && <PaperScreen work={work} />}
      {task === 'sew' && <SewScreen work={work} />}
      {task === 'try' && <CompareScreen work={work} />}
    </>
  );
}
