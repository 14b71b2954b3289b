// A little section of three pieces to try first: the same lines and marks as on the real templates, on scraps.
import { type Block, pointOnGrid } from '../block.ts';
import type { Drawing } from '../drawing/drawing.ts';
import { meetLines } from '../geometry/polygon.ts';
import { inches, type Mm, type System } from '../units.ts';
import { drawSectionSheet } from './lay-out.ts';

/** Finished width and height, so that what was sewn can be measured: 3 x 2 1/2 in. */
const WIDTH = inches(3);
const HEIGHT = inches(2.5);

export interface Practice {
  /** its only section carries the practice pieces, finished face */
  readonly block: Block;
  readonly template: Drawing;
}

export function drawPractice(options: { allowance: Mm; system: System }): Practice {
  const [w, h] = [WIDTH as number, HEIGHT as number];
  // the first seam runs from top to bottom, the second from side to side; they cross in m
  const [a, b]: [[number, number], [number, number]] = [
    [0.62 * w, 0],
    [0.42 * w, h],
  ];
  const [c, d]: [[number, number], [number, number]] = [
    [0, 0.64 * h],
    [w, 0.36 * h],
  ];
  const m = pointOnGrid(meetLines(a, b, c, d)!);
  const block: Block = {
    format: 'seamwright-block',
    version: 1,
    name: 'practice',
    unit: 'mm',
    size: [w, h],
    smallest: 20,
    fabrics: [
      { id: 'f1', code: 'x1', name: 'light scrap', colour: '#f0e6d2', hatch: 1 },
      { id: 'f2', code: 'x2', name: 'middle scrap', colour: '#b3a084', hatch: 3 },
      { id: 'f3', code: 'x3', name: 'dark scrap', colour: '#5d5346', hatch: 6 },
    ],
    sections: [
      {
        id: 'Try',
        outline: [
          [0, 0],
          [w, 0],
          [w, h],
          [0, h],
        ],
        pieces: [
          { number: 1, fabric: 'f1', outline: [[0, 0], a, m, c], seam: null },
          { number: 2, fabric: 'f2', outline: [a, [w, 0], d, m], seam: [a, m] },
          { number: 3, fabric: 'f3', outline: [c, m, d, [w, h], [0, h]], seam: [c, d] },
        ],
      },
    ],
    joins: [],
  };
  return { block, template: drawSectionSheet(block, 'Try', { ...options, margin: inches(0) }) };
}
