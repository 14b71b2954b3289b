// The package `seamwright`: from a picture to a block, and all of `seamwright/block`.
export * from './block-entry.ts';
export type { Outlines, Partition, Picture, Shading } from './data.ts';
export {
  fitPieces,
  makeBlock,
  numberPieces,
  type Options,
  printPacket,
  readPicture,
  shadePicture,
} from './library.ts';
export { writeYardage } from './packet/yardage.ts';
export { type Progress, quiet } from './pipeline/work.ts';
