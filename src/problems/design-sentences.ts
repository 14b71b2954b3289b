// What can be wrong with a drawing of seams.
type File = { file: string };

export const DESIGN_SENTENCES = {
  'near-out-of-range': (v: { most: number }) =>
    `The distance within which lines are joined must be above 0 and under ${v.most} mm.`,
  'drawing-too-small': (v: { file: string; across: number }) =>
    `${v.file} is ${v.across} mm across: draw the block at its finished size, or give its size.`,
  'drawing-too-large': (v: File) => `${v.file} is too large for a drawing of seams: keep it under 8 MB.`,
  'not-an-svg': (v: File) => `${v.file} is not an SVG that can be read: save it again as plain SVG.`,
  'no-lines': (v: File) =>
    `${v.file} shows no lines: draw each seam as a line with a stroke, or each piece as a filled shape.`,
  'too-many-lines': (v: { file: string; most: number }) =>
    `${v.file} has more than ${v.most} lines; a block has some hundred. Draw each seam once, and no hatching.`,
  'too-many-crossings': (v: { file: string; most: number }) =>
    `The lines of ${v.file} meet in more than ${v.most} places; a block has some hundred. Take lines away.`,
  'too-many-drawn-pieces': (v: { file: string; pieces: number; most: number }) =>
    `The lines of ${v.file} bound ${v.pieces} pieces; a block has ${v.most} at most. Part it into several blocks.`,
  'too-many-colours': (v: { file: string; colours: number; most: number }) =>
    `${v.file} has ${v.colours} colours; a block has ${v.most} fabrics at most. Fill its pieces with fewer.`,
  'drawing-too-wide': (v: { file: string; across: number; most: number }) =>
    `${v.file} is ${v.across} mm across, and a block ${v.most} mm at most: draw it at its finished size, or give its size.`,
} as const;
