// Small drawings on buttons, for the eye alone: a word stands beside them or is read out.

const PATHS = {
  plus: 'M12 5v14M5 12h14',
  minus: 'M5 12h14',
  undo: 'M9 5 4 10l5 5M4 10h10a6 6 0 0 1 0 12h-3',
  redo: 'm15 5 5 5-5 5M20 10H10a6 6 0 0 0 0 12h3',
  pick: 'M6 3v15l4-4 3 7 3-1-3-7h6z',
  loop: 'M12 4c5 0 9 2 9 6s-4 6-9 6-9-2-9-6 4-6 9-6ZM7 16c-2 1-2 4 1 5',
  divide: 'M4 4h16v16H4zM4 16 20 8',
  seam: 'M12 3v18M12 12H4m0 0 3-3m-3 3 3 3M12 12h8m0 0-3-3m3 3-3 3',
  pan: 'M12 3v18M3 12h18M9 6l3-3 3 3M9 18l3 3 3-3M6 9l-3 3 3 3M18 9l3 3-3 3',
  fold: 'M4 5h16v14H4zM14 5v14',
  more: 'M5 12h.01M12 12h.01M19 12h.01',
  print: 'M7 9V4h10v5M7 17H4v-7h16v7h-3M7 14h10v6H7z',
} as const;
export type IconName = keyof typeof PATHS;

export function Icon({ name }: { readonly name: IconName }) {
  return (
    <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
      <path d={PATHS[name]} />
    </svg>
  );
}
