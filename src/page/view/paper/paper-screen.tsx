// Print: the packet and the other files, how the sheets are to be, and the sheets as they will be printed.
import type { Work } from '../../api.ts';
import { Question } from '../parts/question.tsx';
import { PaperSettings } from '../picture/how-big.tsx';
import { settingsNow } from '../store/actions.ts';
import { usePart } from '../store/state.ts';
import { Downloads } from './downloads.tsx';
import { SheetPictures } from './sheet-pictures.tsx';

export function PaperScreen({ work }: { readonly work: Work }) {
  const wanted = usePart((s) => s.wanted);
  return (
    <div class="paper-screen">
      <section class="pane questions" aria-labelledby="paper-title">
        <h2 id="paper-title">Print</h2>
        <Downloads work={work} />
        <Question asks="Sheet settings">
          <PaperSettings settings={settingsNow(work, wanted)} />
        </Question>
      </section>
      <SheetPictures work={work} />
    </div>
  );
}
