// The block as a drawing that can be walked over: every piece an option of one list, reached by arrow keys, picked by a click,
// by Space or by Enter.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import type { Point } from '../../../geometry/polygon.ts';
import type { System } from '../../../units.ts';
import type { Work } from '../../api.ts';
import { DivideLine } from '../hand/divide-line.tsx';
import { SeamHandles } from '../hand/seam-handles.tsx';
import { pick } from '../store/actions.ts';
import { shownColour } from '../store/colours.ts';
import { factsOf, neighbourTowards, type PieceFacts, sayPiece } from '../store/facts.ts';
import { at as address } from '../store/server.ts';
import { now, put, usePart } from '../store/state.ts';
import { partShown } from './part-shown.ts';
import { PieceNumbers } from './piece-numbers.tsx';

export const ring = (P: readonly Point[]): string => `M${P.map(([x, y]) => `${x} ${y}`).join('L')}Z`;
/** mm of cloth that a snapshot's middle is taken to show */
const CLOTH_SIDE = 60;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

export function BlockDrawing(props: { readonly block: Block; readonly work: Work; readonly units: System }) {
  const { block, work } = props;
  const [w, h] = block.size;
  const look = usePart((s) => s.look);
  const picked = usePart((s) => s.picked);
  const at = usePart((s) => s.at);
  const tool = usePart((s) => s.tool);
  const seam = usePart((s) => s.seam);
  const facts = factsOf(block);
  const part = partShown(block, look.trueSize ? { tool: 'pick', picked, seam } : { tool, picked, seam });
  const [stop, setStop] = useState(facts[0]?.name);
  const list = useRef<SVGGElement>(null);
  const current = facts.some((f) => f.name === stop) ? stop : facts[0]?.name;
  useEffect(() => {
    if (now().at && !facts.some((f) => f.name === now().at)) put({ at: undefined });
  }, [facts]);

  const goTo = (f: PieceFacts | undefined): void => {
    if (!f) return;
    setStop(f.name);
    list.current?.querySelector<SVGElement>(`[data-piece="${f.name}"]`)?.focus();
  };
  const keys = (e: KeyboardEvent): void => {
    const here = facts.find((f) => f.name === current);
    if (!here) return;
    const arrow = ARROWS[e.key];
    const index = facts.indexOf(here);
    if (arrow) goTo(neighbourTowards(facts, here, ...arrow));
    else if (e.key === 'Home') goTo(facts.find((f) => f.section === here.section));
    else if (e.key === 'End') goTo(facts.findLast((f) => f.section === here.section));
    else if (e.key === 'PageDown') goTo(facts[(index + 1) % facts.length]);
    else if (e.key === 'PageUp') goTo(facts[(index + facts.length - 1) % facts.length]);
    else if (e.key === ' ' || e.key === 'Enter') pick(here.name, e.key === ' ' || e.shiftKey);
    else if (e.key === 'Escape') put({ picked: [] });
    else return;
    e.preventDefault();
  };
  const cloths = look.cloth && look.see === 'fabrics' ? work.shown : {};
  const fill = (f: PieceFacts): string =>
    cloths[f.fabric.id] ? `url(#cloth-${f.fabric.id})` : shownColour(f.fabric.colour, look.see);
  const lit = facts.find((f) => f.name === at);
  const trueSize = look.trueSize ? { width: `${w * look.pixelsPerMm}px`, height: `${h * look.pixelsPerMm}px` } : {};
  return (
    <div
      class={look.trueSize ? 'block-room true-size' : 'block-room'}
      {...(look.trueSize
        ? { tabIndex: 0, role: 'group', 'aria-label': 'The block in its finished size; scroll to see all' }
        : {})}
    >
      {/* biome-ignore lint/a11y/noSvgWithoutTitle: a title would hang over the block as a tooltip; the list in it has a name */}
      <svg
        class="block"
        viewBox={`${part.x} ${part.y} ${part.width} ${part.height}`}
        style={trueSize}
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
        <g
          ref={list}
          role="listbox"
          aria-label="Pieces of the block. Arrow keys go from piece to piece, Page Down in sewing order, Space picks."
          aria-multiselectable="true"
          onKeyDown={keys}
        >
          {facts.map((f) => (
            <path
              key={f.name}
              d={ring(f.piece.outline)}
              role="option"
              data-piece={f.name}
              aria-label={sayPiece(f, props.units)}
              aria-selected={picked.includes(f.name)}
              tabindex={f.name === current ? 0 : -1}
              class={look.seams ? 'piece seamed' : 'piece'}
              fill={fill(f)}
              stroke={look.seams ? undefined : fill(f)}
              onPointerEnter={() => put({ at: f.name })}
              onFocus={() => {
                setStop(f.name);
                put({ at: f.name });
              }}
              onClick={(e) => {
                setStop(f.name);
                if (tool !== 'divide') pick(f.name, e.shiftKey || e.ctrlKey || e.metaKey);
              }}
            />
          ))}
        </g>
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
        {tool === 'divide' && <DivideLine block={block} width={part.width} />}
        {tool === 'move' && <SeamHandles block={block} width={part.width} />}
      </svg>
    </div>
  );
}
