// The block on the table, as large as there is room; nearer by wheel, fingers, buttons and keys.
import type { System } from '../../../units.ts';
import type { Work } from '../../api.ts';
import { BlockDrawing } from './block-drawing.tsx';

export function BlockCanvas(props: { readonly work: Work; readonly units: System; readonly byHand: boolean }) {
  const { work } = props;
  const { block } = work;
  return (
    <section class="block-canvas" aria-label="Block">
      {block ? (
        <BlockDrawing block={block} work={work} units={props.units} byHand={props.byHand} />
      ) : (
        <div class="block-wait">{work.stage !== 'failed' && <p>The block appears here in a moment.</p>}</div>
      )}
      {block && work.stage === 'coarse' && <span class="badge">a first try</span>}
    </section>
  );
}
