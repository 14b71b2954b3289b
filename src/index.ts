// The package `seamwright`: from a picture to a block, and all of `seamwright/block`.
export * from './block-entry.ts';
export type { BlockOutput } from './commands/block.ts';
export type { Outlines, Partition, Picture, Shading } from './data.ts';
export type { FitFound } from './fit/fit-partition.ts';
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
export type { ReadPicture } from './pipeline/figure.ts';
export type { NumberedBlock } from './pipeline/number.ts';
export type { PrintedBlock } from './pipeline/print.ts';
export { type Progress, quiet } from './pipeline/work.ts';
export type { Quality } from './quality/measure-quality.ts';
export type { ShadingFound } from './shade/shade-picture.ts';
