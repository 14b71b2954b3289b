// The quilt as it will be: blocks are dragged to another place, and turned by a press. By keyboard: arrows go from place to place, Enter
// takes a block up and sets it down, R turns it.
import { useRef, useState } from 'preact/hooks';
import type { WorkLine } from '../../api.ts';
import { at } from '../store/server.ts';
import { type Quilt, quiltLayout } from './quilt-places.ts';

export interface Placed {
  /** index into the works */
  readonly work: number;
  /** quarter turns clockwise */
  readonly turn: number;
}

export function QuiltPicture(props: {
  readonly quilt: Quilt;
  readonly block: readonly [number, number];
  readonly works: readonly WorkLine[];
  readonly placed: readonly Placed[];
  readonly onPlace: (placed: readonly Placed[]) => void;
}) {
  const { quilt, block, works, placed } = props;
  const { width, height, places, inner } = quiltLayout(quilt, block);
  const [taken, setTaken] = useState<number>();
  const from = useRef<{ readonly place: number; readonly x: number; readonly y: number } | undefined>(undefined);
  const [w, h] = block;
  const lean = quilt.setting === 'on point' ? 45 : 0;
  const swap = (a: number, b: number): void => {
    if (a === b || !placed[a] || !placed[b]) return;
    props.onPlace(placed.map((p, i) => (i === a ? placed[b]! : i === b ? placed[a]! : p)));
  };
  const turn = (i: number): void =>
    props.onPlace(placed.map((p, k) => (k === i ? { ...p, turn: (p.turn + (w === h ? 1 : 2)) % 4 } : p)));
  const nearest = (svg: SVGSVGElement, e: PointerEvent): number => {
    const m = svg.getScreenCTM()!.inverse();
    const q = new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
    const away = places.map((p) => Math.hypot(p.x - q.x, p.y - q.y));
    return away.indexOf(Math.min(...away));
  };
  const rims = quilt.borders.map((b, i) => ({ b, at: quilt.borders.slice(0, i + 1).reduce((t, v) => t + v, 0) }));
  const key = (e: KeyboardEvent, i: number): void => {
    const by = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: quilt.columns, ArrowUp: -quilt.columns }[e.key];
    if (by !== undefined) {
      const next = Math.max(0, Math.min(places.length - 1, i + by));
      if (taken === i) {
        swap(i, next);
        setTaken(next);
      }
      (e.currentTarget as Element).parentElement?.querySelector<SVGElement>(`[data-place="${next}"]`)?.focus();
    } else if (e.key === 'Enter' || e.key === ' ') setTaken(taken === i ? undefined : i);
    else if (e.key.toLowerCase() === 'r') turn(i);
    else return;
    e.preventDefault();
  };
  return (
    // biome-ignore lint/a11y/noSvgWithoutTitle: its blocks have names
    <svg class="quilt-picture" viewBox={`0 0 ${width} ${height}`} style={{ '--ratio': String(width / height) }}>
      <rect class="quilt-ground" width={width} height={height} />
      {rims.toReversed().map(({ at: edge }, i) => (
        <rect
          key={edge}
          class={`quilt-border border-${(rims.length - i) % 2}`}
          x={inner.x - edge}
          y={inner.y - edge}
          width={inner.width + 2 * edge}
          height={inner.height + 2 * edge}
        />
      ))}
      <rect class="quilt-inner" x={inner.x} y={inner.y} width={inner.width} height={inner.height} />
      {places.map((p, i) => {
        const own = placed[i];
        const work = own && works[own.work];
        if (!own || !work) return null;
        return (
          // biome-ignore lint/a11y/useSemanticElements: there is no button element inside a drawing
          <g
            key={i}
            role="button"
            tabindex={0}
            data-place={i}
            aria-pressed={taken === i}
            aria-label={`Place ${i + 1}: ${work.name}${own.turn ? `, turned ${own.turn * 90} degrees` : ''}. Enter takes it up, R turns it.`}
            class={taken === i ? 'quilt-block taken' : 'quilt-block'}
            transform={`translate(${p.x} ${p.y}) rotate(${lean + own.turn * 90}) translate(${-w / 2} ${-h / 2})`}
            onKeyDown={(e) => key(e, i)}
            onPointerDown={(e) => {
              e.preventDefault();
              (e.currentTarget as SVGElement).setPointerCapture(e.pointerId);
              from.current = { place: i, x: e.clientX, y: e.clientY };
              setTaken(i);
            }}
            onPointerUp={(e) => {
              const start = from.current;
              from.current = undefined;
              setTaken(undefined);
              if (!start) return;
              if (Math.hypot(e.clientX - start.x, e.clientY - start.y) < 6) turn(i);
              else swap(start.place, nearest((e.currentTarget as SVGElement).ownerSVGElement!, e));
            }}
          >
            <image
              href={at.face(work.id, `${work.changed} ${work.stage}`)}
              width={w}
              height={h}
              preserveAspectRatio="none"
            />
            <rect width={w} height={h} />
          </g>
        );
      })}
    </svg>
  );
}
