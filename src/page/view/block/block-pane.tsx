// The block, what is said of the piece under the hand, the ways of looking at it, and its numbers.
import type { Work } from '../../api.ts';
import { RefusalNote } from '../parts/refusal.tsx';
import { AnimalOffer } from '../picture/animal-offer.tsx';
import { usePart } from '../store/state.ts';
import { BlockDrawing } from './block-drawing.tsx';
import { PieceLine } from './piece-line.tsx';
import { WaysOfLooking } from './ways-of-looking.tsx';

export function BlockPane({ work }: { readonly work: Work }) {
  const units = usePart((s) => s.wanted.units) ?? work.settings.units;
  const byHand = usePart((s) => s.address.screen === 'work' && s.address.task === 'hand');
  return (
    <section class="pane block-pane" aria-labelledby="block-title">
      <div class="pane-head">
        <h2 id="block-title">Block</h2>
        {work.stage === 'coarse' && <span class="badge">a first try</span>}
      </div>
      {work.notes[0] && <p class="first-note">{work.notes[0]}</p>}
      {work.block ? (
        <>
          <BlockDrawing block={work.block} work={work} units={units} />
          <PieceLine work={work} block={work.block} units={units} />
          {!byHand && <AnimalOffer work={work} />}
          {byHand && <RefusalNote />}
          <WaysOfLooking work={work} />
        </>
      ) : (
        <div class="block-wait">{work.stage !== 'failed' && <p>The block appears here in a moment.</p>}</div>
      )}
    </section>
  );
}
