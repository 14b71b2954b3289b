// What can be wrong with a block file, and with the size that a block in it is to have.
export const BLOCK_FILE_SENTENCES = {
  'not-a-block-file': (v: { file: string; at: string; why: string }) =>
    `${v.file} is not a block file of this program: ${v.at}: ${v.why}.`,
  'block-file-not-json': (v: { file: string }) =>
    `${v.file} is not a block file: it is not JSON. Choose the file that ends in .block.json.`,
  'fabric-not-listed': (v: { file: string; piece: string; fabric: string }) =>
    `${v.file}: piece ${v.piece} asks for fabric "${v.fabric}", which the file does not list.`,
  'size-of-other-shape': (v: { size: string; block: string; fitting: string }) =>
    `${v.size} is another shape than the block, which is ${v.block}; ${v.fitting} would be of its shape.`,
} as const;
