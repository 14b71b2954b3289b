// The public API.
export { type Block, blockJsonSchema, parseBlock, readBlock, writeBlock } from './block.ts';
export { checkBlock } from './check/check-block.ts';
export type { Fault, Partition, Picture, Shading, Shopping, Verdict, Yardage } from './data.ts';
export { UserError } from './errors.ts';
export { planYardage, type YardageOptions } from './fabric/plan-yardage.ts';
export { LEVEL_DEFAULTS, type Level } from './levels.ts';
export { writeYardage } from './packet/yardage.ts';
export { type BlockSettings, type MadeBlock, makeBlock, type Progress, quiet, shadeFile } from './pipeline.ts';
