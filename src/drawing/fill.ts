// What tells the fabrics apart inside the pieces of a template: hatches, the fabric's colour pale or nearly as it is, or
// nothing but the code.
export const FILLS = ['hatch', 'tint', 'colour', 'none'] as const;
export type Fill = (typeof FILLS)[number];
