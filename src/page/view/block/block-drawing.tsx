// The block as a drawing: its pieces, what is picked and looked at, what the hand holds.
import { useRef } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import type { System } from '../../../units.ts';
import type { Box, Work } from '../../api.ts';
import { DivideLine } from '../hand/divide-line.tsx';
import { HeldOnBlock } from '../hand/held-on-block.tsx';
import { placeOn } from '../hand/pointer-place.ts';
import { SeamHandles } from '../hand/seam-handles.tsx';
import { seamNear } from '../hand/seam-near.ts';
import { shortestCut } from '../hand/shortest-cut.ts';
import { useHold } from '../hand/use-hold.ts';
import { onto, partOf } from '../parts/zoom.ts';
import { useZoomGestures } from '../parts/zoom-gestures.ts';
import { pick } from '../store/actions.ts';
import { shownColour } from '../store/colours.ts';
import { factsOf, type PieceFacts } from '../store/facts.ts';
import { at as address } from '../store/server.ts';
import { now, put, usePart } from '../store/state.ts';
import { PieceList, ring } from './piece-list.tsx';
import { PieceNumbers } from './piece-numbers.tsx';

/** mm of cloth that a snapshot's middle is taken to show */
const CLOTH_SIDE = 60;
/** mm about the block, for its outermost line */
const RIM = 0.6;
/** ms between two taps that are one double tap */
const TWICE = 350;
/** a piece that is to be divided is looked at no nearer than this */
const NEAR = 4;
/** pixels about a join or a seam that a press of the seam tool finds */
const SEAM_REACH = 16;

export function BlockDrawing(props: {
  readonly block: Block;
  readonly work: Work;
  readonly units: System;
  readonly byHand: boolean;
}) {
  const { work, byHand } = props;
  const [w, h] = props.block.size;
  const look = usePart((s) => s.look);
  const picked = usePart((s) => s.picked);
  const at = usePart((s) => s.at);
  const tool = usePart((s) => s.tool);
  const zoom = usePart((s) => s.blockZoom);
  const tapped = useRef({ name: '', at: 0 });
  const hold = useHold(work, props.block, byHand && !look.trueSize);
  const block = (hold.held?.kind === 'seam' && hold.held.block) || props.block;
  const facts = factsOf(block);
  const whole: Box = [-RIM, -RIM, w + 2 * RIM, h + 2 * RIM];
  const part = look.trueSize ? whole : partOf(whole, zoom);
  const svg = useZoomGestures<SVGSVGElement>({
    get: () => now().blockZoom,
    put: (blockZoom) => put({ blockZoom }),
    // in the hand's task one finger works at the block
    pans: () => now().blockZoom.by > 1 && (!byHand || now().tool === 'pan'),
  });

  const press = (f: PieceFacts, e: MouseEvent): void => {
    if (hold.dragged.current || tool === 'divide' || tool === 'pan') return;
    if (tool === 'move' && svg.current) {
      const reach = SEAM_REACH / (svg.current.getScreenCTM()?.a || 1);
      const near = seamNear(block, placeOn(svg.current, e), reach);
      if (near) {
        put({ seam: near.seam.target });
        return;
      }
    }
    const twice = tapped.current.name === f.name && e.timeStamp - tapped.current.at < TWICE;
    tapped.current = { name: f.name, at: e.timeStamp };
    const adds = e.shiftKey || e.ctrlKey || e.metaKey;
    if (twice && byHand && !adds && e.detail && svg.current) {
      const line = shortestCut(f.piece.outline, placeOn(svg.current, e));
      put({ tool: 'divide', picked: [f.name], seam: undefined, line, blockZoom: nearTo(f) });
    } else pick(f.name, adds);
  };
  const nearTo = (f: PieceFacts) => {
    const xs = f.piece.outline.map((q) => q[0]);
    const ys = f.piece.outline.map((q) => q[1]);
    const [x, y] = [Math.min(...xs), Math.min(...ys)];
    const [pw, ph] = [Math.max(...xs) - x, Math.max(...ys) - y];
    const wished = onto(whole, [x - pw * 0.8, y - ph * 0.8, pw * 2.6, ph * 2.6], NEAR);
    return wished.by > now().blockZoom.by ? wished : now().blockZoom;
  };

  const cloths = look.cloth && look.see === 'fabrics' ? work.shown : {};
  const fill = (f: PieceFacts): string =>
    cloths[f.fabric.id] ? `url(#cloth-${f.fabric.id})` : shownColour(f.fabric.colour, look.see);
  const lit = hold.held ? undefined : facts.find((f) => f.name === at);
  const size = look.trueSize
    ? { width: `${w * look.pixelsPerMm}px`, height: `${h * look.pixelsPerMm}px` }
    : { '--ratio': String(whole[2] / whole[3]) };
  return (
    <div
      class={look.trueSize ? 'block-room true-size' : 'block-room'}
      {...(look.trueSize
        ? { tabIndex: 0, role: 'group', 'aria-label': 'The block in its finished size; scroll to see all' }
        : {})}
    >
      {/* biome-ignore lint/a11y/noSvgWithoutTitle: a title would hang over the block as a tooltip; the list in it has a name */}
      <svg
        ref={svg}
        class={`block with-${byHand ? tool : 'look'}${hold.hover ? ' over-seam' : ''}`}
        viewBox={part.join(' ')}
        style={size}
        onPointerDown={hold.down}
        onPointerMove={hold.move}
        onPointerUp={hold.up}
        onPointerCancel={hold.drop}
        onPointerLeave={() => put({ at: undefined })}
      >
        <defs>
          {Object.entries(cloths).map(([fabric, cloth]) => (
            <pattern
              key={fabric}
              id={`cloth-${fabric}`}
              width={CLOTH_SIDE}
              height={CLOTH_SIDE}
              patternUnits="userSpaceOnUse"
            >
              <image
                href={address.cloth(work.id, cloth)}
                width={CLOTH_SIDE}
                height={CLOTH_SIDE}
                preserveAspectRatio="xMidYMid slice"
              />
            </pattern>
          ))}
        </defs>
        <PieceList {...{ facts, picked, fill }} units={props.units} seams={look.seams} onPress={press} />
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: shapes laid over the pieces, for the eye; nothing in it takes the focus */}
        <g class="over" aria-hidden="true">
          {look.numbers && <PieceNumbers facts={facts} see={look.see} />}
          {lit && <path class="lit-section" d={ring(lit.section.outline)} />}
          {facts
            .filter((f) => picked.includes(f.name))
            .map((f) => (
              <g key={f.name}>
                <path class="picked-ground" d={ring(f.piece.outline)} />
                <path class="picked" d={ring(f.piece.outline)} />
              </g>
            ))}
          {lit && <path class="lit-piece" d={ring(lit.piece.outline)} />}
          {lit?.piece.seam && <path class="lit-seam" d={`M${lit.piece.seam.map((q) => q.join(' ')).join('L')}`} />}
        </g>
        {byHand && tool === 'divide' && <DivideLine block={block} width={part[2]} />}
        {byHand && tool === 'move' && !hold.held && <SeamHandles block={block} width={part[2]} />}
        {byHand && <HeldOnBlock held={hold.held} hover={hold.hover} />}
      </svg>
      {hold.held?.kind === 'seam' && hold.held.refusal && (
        <p class="live-refusal" role="status">
          {hold.held.refusal}
        </p>
      )}
    </div>
  );
}
