// What can be wrong with a folder of pictures and with the series that is made of it.
export const SERIES_SENTENCES = {
  'no-folder': (v: { folder: string }) => `There is no folder ${v.folder}; name the one that holds the pictures.`,
  'no-pictures': (v: { folder: string }) => `${v.folder} holds no pictures.`,
} as const;
