// The package `seamwright`: from a picture to a block. What needs no native parts is in `seamwright/block`.
export { type Block, blockJsonSchema, type Fabric, parseBlock, readBlock, writeBlock } from './block.ts';
export { checkBlock } from './check/check-block.ts';
export type { Fault, Outlines, Partition, Picture, Shading, Shopping, Verdict, Yardage } from './data.ts';
export { planYardage, type YardageOptions } from './fabric/plan-yardage.ts';
export { LEVEL_DEFAULTS, LEVELS, type Level } from './levels.ts';
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
export { type Problem, UserError } from './problems/problem.ts';
export { completeSettings, defaultSettings, type Settings, settingsJsonSchema } from './settings/settings.ts';
