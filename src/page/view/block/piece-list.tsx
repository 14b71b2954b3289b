// The pieces as one list that can be walked over: every piece an option, reached by arrow keys, picked by a click, by Space or by Enter.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Point } from '../../../geometry/polygon.ts';
import type { System } from '../../../units.ts';
import { pick } from '../store/actions.ts';
import { neighbourTowards, type PieceFacts, sayPiece } from '../store/facts.ts';
import { now, put } from '../store/state.ts';

export const ring = (P: readonly Point[]): string => `M${P.map(([x, y]) => `${x} ${y}`).join('L')}Z`;

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

export function PieceList(props: {
  readonly facts: readonly PieceFacts[];
  readonly picked: readonly string[];
  readonly units: System;
  readonly seams: boolean;
  readonly fill: (f: PieceFacts) => string;
  /** a press, where it is one */
  readonly onPress: (f: PieceFacts, e: MouseEvent) => void;
}) {
  const { facts, picked, fill } = props;
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
    const arrow = e.shiftKey ? undefined : ARROWS[e.key];
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
  return (
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
          class={props.seams ? 'piece seamed' : 'piece'}
          fill={fill(f)}
          stroke={props.seams ? undefined : fill(f)}
          onPointerEnter={() => put({ at: f.name })}
          onFocus={() => {
            setStop(f.name);
            put({ at: f.name });
          }}
          onClick={(e) => {
            setStop(f.name);
            props.onPress(f, e);
          }}
        />
      ))}
    </g>
  );
}
