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
} as const;
