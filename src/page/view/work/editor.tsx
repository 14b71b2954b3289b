// Where a block is worked at: the block (and the picture) on the table, as large as the window lets them be, the tools beside it, the
// settings in a panel that folds away. On a narrow window the table stays in sight while the settings are scrolled.
import type { Work } from '../../api.ts';
import { BlockCanvas } from '../block/block-canvas.tsx';
import { BlockFacts } from '../block/block-numbers.tsx';
import { PieceLine } from '../block/piece-line.tsx';
import { WaysOfLooking } from '../block/ways-of-looking.tsx';
import { HandPanel } from '../hand/hand-panel.tsx';
import { HandTools } from '../hand/hand-tools.tsx';
import { FoldOut } from '../parts/fold-out.tsx';
import { Icon } from '../parts/icon.tsx';
import { RefusalNote } from '../parts/refusal.tsx';
import { TWO, useRoom } from '../parts/wide.ts';
import { ZoomButtons } from '../parts/zoom-buttons.tsx';
import { AnimalOffer } from '../picture/animal-offer.tsx';
import { PictureCanvas } from '../picture/picture-canvas.tsx';
import { PictureQuestions } from '../picture/picture-questions.tsx';
import { setLook } from '../store/actions.ts';
import { type Look, put, usePart } from '../store/state.ts';
import { StatusLine } from './status-line.tsx';

type View = Look['view'];
const VIEWS: readonly { readonly value: View; readonly label: string }[] = [
  { value: 'both', label: 'Both' },
  { value: 'picture', label: 'Picture' },
  { value: 'block', label: 'Block' },
];

export function Editor({ work, task }: { readonly work: Work; readonly task: 'picture' | 'hand' }) {
  const panel = usePart((s) => s.look.panel);
  const wanted = usePart((s) => s.look.view);
  const units = usePart((s) => s.wanted.units) ?? work.settings.units;
  const blockZoom = usePart((s) => s.blockZoom);
  const pictureZoom = usePart((s) => s.pictureZoom);
  const roomForTwo = useRoom(TWO);
  const pictured = task === 'picture' && work.picture !== undefined;
  const view: View = !pictured ? 'block' : wanted === 'both' && !roomForTwo ? 'block' : wanted;
  const block = view !== 'picture';
  return (
    <div class={`editor ${task}${panel ? '' : ' folded'}`}>
      <section class="table" aria-label={task === 'hand' ? 'The block' : 'Picture and block'}>
        <div class="table-head">
          {pictured && <Views view={view} both={roomForTwo} />}
          <FoldOut label="View" kind="looking-menu">
            <WaysOfLooking work={work} />
          </FoldOut>
          {block ? (
            <ZoomButtons what="the block" keys zoom={blockZoom} onZoom={(z) => put({ blockZoom: z })} />
          ) : (
            <ZoomButtons what="the picture" keys zoom={pictureZoom} onZoom={(z) => put({ pictureZoom: z })} />
          )}
          <button
            type="button"
            class="fold-panel"
            aria-expanded={panel}
            aria-controls="panel"
            onClick={() => setLook({ panel: !panel })}
          >
            <Icon name="fold" />
            {panel ? 'Hide settings' : 'Show settings'}
          </button>
        </div>
        <div class={`canvases ${view}`}>
          {task === 'hand' && <HandTools />}
          {view !== 'block' && work.picture && <PictureCanvas work={work} picture={work.picture} />}
          {block && <BlockCanvas work={work} units={units} byHand={task === 'hand'} />}
          <RefusalNote />
        </div>
        <div class="table-foot">
          <StatusLine work={work} />
          {block && work.block && <PieceLine work={work} block={work.block} units={units} />}
        </div>
      </section>
      <div id="panel" class="panel" hidden={!panel}>
        {panel && (
          <>
            <h2 class="visually-hidden">{task === 'hand' ? 'Changes' : 'Settings'}</h2>
            {work.notes[0] && <p class="first-note">{work.notes[0]}</p>}
            {task === 'picture' && <AnimalOffer work={work} />}
            {task === 'picture' ? <PictureQuestions work={work} /> : <HandPanel work={work} />}
            <BlockFacts work={work} />
          </>
        )}
      </div>
    </div>
  );
}

function Views({ view, both }: { readonly view: View; readonly both: boolean }) {
  return (
    <fieldset class="views">
      <legend class="visually-hidden">Show on the table</legend>
      {VIEWS.filter((v) => both || v.value !== 'both').map((v) => (
        <label key={v.value}>
          <input type="radio" name="view" checked={v.value === view} onChange={() => setLook({ view: v.value })} />
          <span>{v.label}</span>
        </label>
      ))}
    </fieldset>
  );
}
